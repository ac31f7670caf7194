// Values computed by the program beside reference values, as listed in the flow report.
#pragma once

#include <string>
#include <vector>

namespace bedshade::report {

/// How far a value may be from its reference: a fraction of it, or an absolute amount, or
/// anywhere between two bounds.
struct Check {
    enum class By { share, amount, bounds } by = By::share;
    std::string what, source;
    double expected = 0.0, found = 0.0;
    double allowed = 0.0;  ///< a fraction or an amount
    double low = 0.0, high = 0.0;

    bool passes() const;
};

Check within_share(std::string what, double expected, double found, double share,
                   std::string source);
Check within_amount(std::string what, double expected, double found, double amount,
                    std::string source);
Check between(std::string what, double found, double low, double high, std::string source);

struct Section {
    std::string title, text;
    std::vector<Check> checks;
};

/// A section in Markdown: its title, its text, and a table of its checks.
std::string markdown_of(const Section& section);

/// Sections that take seconds, and sections that take minutes.
std::vector<Section> quick_sections();
std::vector<Section> long_sections();

/// The whole report; a failed check is marked in it.
std::string whole_report(const std::vector<Section>& quick, const std::vector<Section>& slow);

}  // namespace bedshade::report
