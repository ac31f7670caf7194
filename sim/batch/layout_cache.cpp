#include "sim/batch/layout_cache.h"

#include <algorithm>
#include <stdexcept>

#include "sim/base/sha256.h"
#include "sim/batch/fingerprint.h"
#include "sim/input/traits/trait_files.h"

namespace bedshade {
namespace {

/// Layouts in memory; consecutive runs mostly share one.
constexpr std::size_t kMostRead = 4;

}  // namespace

LayoutCache::LayoutCache(std::vector<StudyLayout> layouts, LayoutOptions options)
    : layouts_(std::move(layouts)), options_(std::move(options)), fingerprints_(layouts_.size()) {
    for (const StudyLayout& layout : layouts_) file_names_.push_back(layout.file.string());
    // One text for all of them, read once: a trait file changed in the night changes nothing.
    options_.traits_text = traits_with(options_.trait_files).text();
    options_.trait_files.clear();
}

std::string LayoutCache::fingerprint_now(std::size_t layout) const {
    return sha256_hex(layout_fingerprint(layouts_[layout].file) +
                      sha256_hex(*options_.traits_text));
}

std::string LayoutCache::fingerprint(std::size_t layout) {
    {
        const std::lock_guard lock(mutex_);
        if (!fingerprints_[layout].empty()) return fingerprints_[layout];
    }
    std::string now = fingerprint_now(layout);
    const std::lock_guard lock(mutex_);
    if (fingerprints_[layout].empty()) fingerprints_[layout] = std::move(now);
    return fingerprints_[layout];
}

std::shared_ptr<const LayoutFile> LayoutCache::read(std::size_t layout) {
    const std::string expected = fingerprint(layout);
    const std::lock_guard lock(mutex_);
    const auto found = std::find_if(read_.begin(), read_.end(),
                                    [&](const auto& each) { return each.first == layout; });
    if (found != read_.end()) {
        read_.splice(read_.begin(), read_, found);
        return read_.front().second;
    }
    const StudyLayout& wanted = layouts_[layout];
    auto file = std::make_shared<const LayoutFile>(read_layout(wanted.file, options_));
    if (fingerprint_now(layout) != expected)
        throw std::runtime_error("the layout was changed while the batch ran");
    read_.emplace_front(layout, file);
    if (read_.size() > kMostRead) read_.pop_back();
    return file;
}

}  // namespace bedshade
