// Reads values of options and checks their ranges.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <istream>

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// Throws UsageError for the first of these options that is not given.
void require_given(const Arguments& arguments, std::initializer_list<const char*> options);

/// A whole number within a range; throws UsageError naming the option otherwise.
int whole_within(const Arguments& arguments, const char* option, int least, int most);
/// The same, or nothing where the option is not given.
std::optional<int> maybe_whole_within(const Arguments& arguments, const char* option, int least,
                                      int most);
/// A number within a range, ends included.
double number_within(const Arguments& arguments, const char* option, double least, double most);
/// A length with its unit, in metres.
double length_within(const Arguments& arguments, const char* option, double least_m, double most_m);

/// What the command line says where a count that may be large is wanted: digits and nothing else.
/// (Read as an unsigned number "-1" would be 18446744073709551615.)
struct Count {
    std::uint64_t value = 0;
};
std::istream& operator>>(std::istream& in, Count& count);
std::ostream& operator<<(std::ostream& out, const Count& count);

}  // namespace bedshade
