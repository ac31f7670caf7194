#include "sim/advice/result_cache.h"

#include <limits>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "sim/base/file_eviction.h"
#include "sim/base/plain_text.h"
#include "sim/base/sha256.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

constexpr std::size_t kDigest = 64;
constexpr const char* kEnding = ".seasons";

/// A line is what the run is called, its body, and the digest of both.
std::string line_of(const std::string& digest, const std::string& body) {
    return digest + body + sha256_hex(digest + body);
}

/// The file, locked for writing; nothing where it cannot be had. What it holds goes to `take`.
std::unique_ptr<LineFile> file_in(const fs::path& folder, const std::string& shared,
                                  const std::function<void(std::string_view)>& take) {
    std::error_code refused;
    fs::create_directories(folder, refused);
    const fs::path path = folder / (sha256_hex(shared) + kEnding);
    try {
        auto file = std::make_unique<LineFile>(path);
        const bool ours = file->lock_now();
        if (ours) file->mend();
        file->read(0, take);
        fs::last_write_time(path, fs::file_time_type::clock::now(), refused);
        return ours ? std::move(file) : nullptr;
    } catch (const std::runtime_error&) {
        return nullptr;
    }
}

}  // namespace

ResultCache::ResultCache(const fs::path& folder, const std::string& shared) {
    file_ = file_in(folder, shared, [&](std::string_view line) { take_line(line); });
    evict_least_recently_used(folder, {kEnding}, kMostFiles);
}

void ResultCache::take_line(std::string_view line) {
    bytes_ += line.size() + 1;
    if (line.size() < 2 * kDigest) return;
    const std::string_view signed_part = line.substr(0, line.size() - kDigest);
    if (sha256_hex(signed_part) != line.substr(signed_part.size())) return;
    bodies_[std::string(signed_part.substr(0, kDigest))] = signed_part.substr(kDigest);
}

std::optional<ordered_json> ResultCache::find(const std::string& digest) {
    const std::lock_guard lock(mutex_);
    const auto found = bodies_.find(digest);
    if (found == bodies_.end()) return std::nullopt;
    ordered_json body = ordered_json::parse(found->second, nullptr, false);
    if (!body.is_array() || body.size() != 2 || !body[0].is_number()) return std::nullopt;
    return body;
}

void ResultCache::keep(const std::string& digest, const std::string& body) {
    const std::lock_guard lock(mutex_);
    const std::string line = line_of(digest, body);
    if (bytes_ + line.size() + 1 > kMostBytes) return;
    // Two threads may have run it at once.
    if (!bodies_.try_emplace(digest, body).second) return;
    bytes_ += line.size() + 1;
    if (!file_) return;
    try {
        file_->append(line, false);
    } catch (const std::runtime_error&) {
        file_.reset();
    }
}

ordered_json ResultCache::recall(const std::string& called, const GoOn& go_on,
                                 const Runner& runner) {
    const std::string digest = sha256_hex(called);
    if (auto body = find(digest)) {
        go_on((*body)[0].get<double>());
        return std::move((*body)[1]);
    }
    double share = 0.0;
    bool stopped = false;
    ordered_json what = runner([&](double reported) {
        share = reported;
        stopped = !go_on(reported) || stopped;
        return !stopped;
    });
    if (!stopped) keep(digest, json_line(ordered_json::array({share, what})));
    return what;
}

ordered_json json_of_number(double number) {
    if (number == std::numeric_limits<double>::infinity()) return "inf";
    if (number == -std::numeric_limits<double>::infinity()) return "-inf";
    return number;
}

double number_from_json(const ordered_json& json) {
    if (json.is_null()) return std::numeric_limits<double>::quiet_NaN();
    if (!json.is_string()) return json.get<double>();
    const double infinite = std::numeric_limits<double>::infinity();
    return json.get_ref<const std::string&>() == "inf" ? infinite : -infinite;
}

}  // namespace bedshade
