#include "tests/flow_report/check.h"

#include <cmath>
#include <fmt/format.h>

namespace bedshade::report {
namespace {

std::string off_text(const Check& check) {
    // Adding zero removes the sign of a negative zero.
    const auto rounded = [](double value, double digits) {
        return std::round(value * digits) / digits + 0.0;
    };
    const double off = check.found - check.expected;
    if (check.by == Check::By::share)
        return fmt::format("{:+.2f} %", rounded(100.0 * off / check.expected, 100.0));
    if (check.by == Check::By::amount) return fmt::format("{:+.4f}", rounded(off, 1e4));
    return "";
}

std::string allowed_text(const Check& check) {
    if (check.by == Check::By::share) return fmt::format("{:g} %", 100.0 * check.allowed);
    if (check.by == Check::By::amount) return fmt::format("{:g}", check.allowed);
    return fmt::format("{:g} to {:g}", check.low, check.high);
}

std::string row_of(const Check& check) {
    const std::string expected =
        check.by == Check::By::bounds ? "" : fmt::format("{:.5g}", check.expected);
    return fmt::format("| {} | {} | {} | {:.5g} | {} | {} |{}\n", check.what, check.source,
                       expected, check.found, off_text(check), allowed_text(check),
                       check.passes() ? "" : " **missed**");
}

}  // namespace

bool Check::passes() const {
    const double off = std::abs(found - expected);
    if (by == By::share) return off <= allowed * std::abs(expected);
    if (by == By::amount) return off <= allowed;
    return found >= low && found <= high;
}

Check within_share(std::string what, double expected, double found, double share,
                   std::string source) {
    return {Check::By::share, std::move(what), std::move(source), expected, found, share, 0.0, 0.0};
}

Check within_amount(std::string what, double expected, double found, double amount,
                    std::string source) {
    return {
        Check::By::amount, std::move(what), std::move(source), expected, found, amount, 0.0, 0.0};
}

Check between(std::string what, double found, double low, double high, std::string source) {
    return {Check::By::bounds, std::move(what), std::move(source), 0.0, found, 0.0, low, high};
}

std::string markdown_of(const Section& section) {
    std::string text = fmt::format("## {}\n\n", section.title);
    if (!section.text.empty()) text += section.text + "\n\n";
    text += "| what | source | reference | program | error | allowed |\n";
    text += "|---|---|---|---|---|---|\n";
    for (const Check& check : section.checks) text += row_of(check);
    return text + "\n";
}

std::string whole_report(const std::vector<Section>& quick, const std::vector<Section>& slow) {
    std::string text =
        "# Verification of flow and sand\n\nWritten by `tools/flow_report`, which computes every "
        "value again; `tests/published` checks the same bounds. Where the source says \"exact\" "
        "the reference is a formula; \"own\" is a bound of our own, without a published value.\n\n";
    for (const auto* sections : {&quick, &slow})
        for (const Section& section : *sections) text += markdown_of(section);
    text.pop_back();
    return text;
}

}  // namespace bedshade::report
