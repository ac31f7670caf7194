// The columns of the trait table: name, unit, range, and the field of a Taxon each one fills.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "model/reef/taxon.h"

namespace bedshade {

/// A number within a range, ends included.
struct NumberField {
    double& (*of)(Taxon&);
    double to_si;      ///< the field's SI value of one unit of the column
    double low, high;  ///< allowed, in the column's unit
    const char* unit;  ///< as said in messages; empty for pure numbers
};

struct TextField {
    std::string& (*of)(Taxon&);
    bool required;
};

/// One of a few words.
struct WordField {
    std::vector<std::string> words;
    void (*set)(Taxon&, std::size_t word);
};

/// Names separated by `;`.
struct NamesField {
    std::vector<std::string>& (*of)(Taxon&);
};

struct TraitColumn {
    std::string name;
    std::variant<NumberField, TextField, WordField, NamesField> field;
};

/// All columns of the trait table in their usual order; the first is `id`.
const std::vector<TraitColumn>& trait_columns();

/// The names of all columns.
std::vector<std::string> trait_column_names();

/// Reads a cell into the taxon's field. Returns what is wrong with the cell, with what is allowed
/// in `help`; an empty string when nothing is.
std::string read_trait(const TraitColumn& column, std::string_view cell, Taxon& taxon,
                       std::string& help);

}  // namespace bedshade
