// The result of one run: a line of a batch's results, and a row of the ranking table.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bedshade {

enum class RunOutcome {
    done,
    refused,  ///< its layout cannot be read: it will be refused again
    failed,   ///< it broke off while running: worth another try
};
const char* to_string(RunOutcome outcome);

/// Margins are on one scale (MarginTracker; 5 cm of room count as 1) and clamped to this; where
/// there is no limit they stand at it. e^5 is a factor of 150.
inline constexpr double kMostMargin = 5.0;

/// The worst margin of each kind over all corals on the bed, averaged over the members.
struct BedMargins {
    double light = kMostMargin, sand = kMostMargin, reach = kMostMargin, flow = kMostMargin;

    bool operator==(const BedMargins&) const = default;
};

/// A run and its result. Everything in it depends on the run alone: no time, host or path.
struct BatchRow {
    std::string key;
    RunOutcome outcome = RunOutcome::done;
    std::string message;  ///< why it was refused or failed
    std::string program, model;
    std::string layout;
    std::vector<std::pair<std::string, std::string>> settings;
    std::uint64_t seed = 1;
    int months = 0, members = 1;

    BedMargins bed;
    double worst = kMostMargin;  ///< of all kinds, bed corals: mean over the members
    double worst_low = kMostMargin, worst_high = kMostMargin;  ///< 10 and 90 % of the members
    std::string worst_of;             ///< "light of disc under ledge": the central member's
    double tank_worst = kMostMargin;  ///< over all corals: mean over the members
    double flags_mean = 0.0;          ///< flags of a member
    int members_flagged = 0;
    int first_flag_month = 0;  ///< of the central member; 0: none
    std::string flags;         ///< of the central member, in words, in the order they came

    bool operator==(const BatchRow&) const = default;
};

/// The row as one line of JSON, without a line end. It begins with key and outcome.
std::string row_json(const BatchRow& row);

/// Reads such a line; nothing when it is none.
std::optional<BatchRow> row_from_json(std::string_view line);

/// Key and outcome alone, without reading the rest; nothing when the line does not begin with them.
struct RowHead {
    std::string_view key;
    RunOutcome outcome = RunOutcome::done;
};
std::optional<RowHead> row_head(std::string_view line);

/// Hexadecimal digits of a key.
inline constexpr std::size_t kKeyDigits = 64;

}  // namespace bedshade
