// The trait table: CSV rows in, taxa out, with every problem named.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/reef/taxon.h"

#include "sim/input/text/diagnostic.h"

namespace bedshade {

class TraitTable {
  public:
    /// Reads CSV text; later rows with an id already there replace that row (a user's own table
    /// laid over the built-in one). The first row names the columns, id first; columns may be left
    /// out where every id is in the table already, and then keep their values. At most 4 MB and
    /// 5,000 rows. `file` names it in messages. Throws InputError with every problem (the first
    /// hundred, and a count of the rest) and leaves the table as it was.
    ///
    /// The light values are evidence, rounded: in the built-in table compensation light is given
    /// to three digits and dli_min to two decimals, so that the day's net carbon is 0 +- 0.02 at
    /// dli_min (model/growth/energy.h); a reader cannot see whether a user's row agrees as well.
    void overlay(std::string_view csv, const std::string& file);

    const std::vector<Taxon>& taxa() const { return taxa_; }
    /// The taxon with this id, alias or scientific name (case ignored), or null.
    const Taxon* find(std::string_view id_or_alias) const;
    /// Every id and alias, for suggestions.
    std::vector<std::string> names() const;
    /// All text laid down so far, in order: what a trajectory stores. Laid over an empty table it
    /// gives this table again, for a row that starts with "id" is a header wherever it stands.
    const std::string& text() const { return text_; }

  private:
    std::vector<Taxon> taxa_;
    std::string text_;
};

/// The table that comes with the program.
TraitTable builtin_traits();

}  // namespace bedshade
