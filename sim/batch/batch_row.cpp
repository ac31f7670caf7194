#include "sim/batch/batch_row.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "sim/base/plain_text.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

constexpr std::array kOutcomes = {RunOutcome::done, RunOutcome::refused, RunOutcome::failed};
constexpr std::string_view kBeforeKey = R"({"key":")";
constexpr std::string_view kBeforeOutcome = R"(","outcome":")";

std::optional<RunOutcome> outcome_called(std::string_view word) {
    for (const RunOutcome outcome : kOutcomes)
        if (word == to_string(outcome)) return outcome;
    return std::nullopt;
}

ordered_json settings_json(const BatchRow& row) {
    auto settings = ordered_json::object();
    for (const auto& [name, value] : row.settings) settings[name] = value;
    return settings;
}

void add_results(const BatchRow& row, ordered_json& line) {
    line["bed"] = {{"light", row.bed.light},
                   {"sand", row.bed.sand},
                   {"reach", row.bed.reach},
                   {"flow", row.bed.flow}};
    line["worst"] = row.worst;
    line["worst_low"] = row.worst_low;
    line["worst_high"] = row.worst_high;
    line["worst_of"] = row.worst_of;
    line["tank_worst"] = row.tank_worst;
    line["flags_mean"] = row.flags_mean;
    line["members_flagged"] = row.members_flagged;
    line["first_flag_month"] = row.first_flag_month;
    line["flags"] = row.flags;
}

void read_results(const ordered_json& line, BatchRow& row) {
    const auto& bed = line.at("bed");
    bed.at("light").get_to(row.bed.light);
    bed.at("sand").get_to(row.bed.sand);
    bed.at("reach").get_to(row.bed.reach);
    bed.at("flow").get_to(row.bed.flow);
    line.at("worst").get_to(row.worst);
    line.at("worst_low").get_to(row.worst_low);
    line.at("worst_high").get_to(row.worst_high);
    line.at("worst_of").get_to(row.worst_of);
    line.at("tank_worst").get_to(row.tank_worst);
    line.at("flags_mean").get_to(row.flags_mean);
    line.at("members_flagged").get_to(row.members_flagged);
    line.at("first_flag_month").get_to(row.first_flag_month);
    line.at("flags").get_to(row.flags);
}

BatchRow row_in(const ordered_json& line) {
    BatchRow row;
    line.at("key").get_to(row.key);
    if (row.key.size() != kKeyDigits) throw std::invalid_argument("key");
    const auto outcome = outcome_called(line.at("outcome").get<std::string>());
    if (!outcome) throw std::invalid_argument("outcome");
    row.outcome = *outcome;
    line.at("program").get_to(row.program);
    line.at("model").get_to(row.model);
    line.at("layout").get_to(row.layout);
    for (const auto& [name, value] : line.at("settings").items())
        row.settings.emplace_back(name, value.get<std::string>());
    line.at("seed").get_to(row.seed);
    line.at("months").get_to(row.months);
    line.at("members").get_to(row.members);
    if (row.outcome == RunOutcome::done)
        read_results(line, row);
    else
        line.at("message").get_to(row.message);
    return row;
}

}  // namespace

const char* to_string(RunOutcome outcome) {
    switch (outcome) {
        case RunOutcome::done:
            return "done";
        case RunOutcome::refused:
            return "refused";
        case RunOutcome::failed:
            return "failed";
    }
    return "";
}

std::string row_json(const BatchRow& row) {
    ordered_json line = {{"key", row.key},         {"outcome", to_string(row.outcome)},
                         {"program", row.program}, {"model", row.model},
                         {"layout", row.layout},   {"settings", settings_json(row)},
                         {"seed", row.seed},       {"months", row.months},
                         {"members", row.members}};
    if (row.outcome == RunOutcome::done)
        add_results(row, line);
    else
        line["message"] = row.message;
    return json_line(line);
}

std::optional<BatchRow> row_from_json(std::string_view line) {
    try {
        return row_in(ordered_json::parse(line));
    } catch (const std::exception&) {
        return std::nullopt;
    }
}

std::optional<RowHead> row_head(std::string_view line) {
    if (line.substr(0, kBeforeKey.size()) != kBeforeKey) return std::nullopt;
    line.remove_prefix(kBeforeKey.size());
    const std::string_view key = line.substr(0, kKeyDigits);
    if (key.size() != kKeyDigits ||
        line.substr(kKeyDigits, kBeforeOutcome.size()) != kBeforeOutcome)
        return std::nullopt;
    line.remove_prefix(kKeyDigits + kBeforeOutcome.size());
    const auto outcome = outcome_called(line.substr(0, line.find('"')));
    return outcome ? std::optional(RowHead{key, *outcome}) : std::nullopt;
}

}  // namespace bedshade
