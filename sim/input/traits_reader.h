// The trait table: CSV rows in, taxa out, with every problem named.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/reef/taxon.h"

#include "sim/input/diagnostic.h"

namespace bedshade {

class TraitTable {
  public:
    /// Reads CSV text; later rows with an id already there replace that row (a user's own table
    /// laid over the built-in one). `file` names it in messages. Throws InputError with every
    /// problem.
    void lay_over(std::string_view csv, const std::string& file);

    const std::vector<Taxon>& taxa() const { return taxa_; }
    /// The taxon with this id or alias (case ignored), or null.
    const Taxon* find(std::string_view id_or_alias) const;
    /// Every id and alias, for suggestions.
    std::vector<std::string> names() const;
    /// All text laid down so far, in order: what a trajectory stores.
    const std::string& text() const { return text_; }

  private:
    std::vector<Taxon> taxa_;
    std::string text_;
};

/// The table that comes with the program.
TraitTable builtin_traits();

}  // namespace bedshade
