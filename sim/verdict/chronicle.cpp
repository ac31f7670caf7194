#include "sim/verdict/chronicle.h"

#include <fmt/format.h>

namespace bedshade {
namespace {

/// What a colony does when it comes to a stage; nothing for those not worth a line.
const char* beginning(Stage stage) {
    switch (stage) {
        case Stage::growing:
            return "begins to grow outward";
        case Stage::fasting:
            return "begins to live on its reserve";
        case Stage::receding:
            return "begins to lose tissue, its reserve being spent";
        case Stage::dead:
            return "dies";
        case Stage::absent:
        case Stage::settling:
        case Stage::idle:
            break;
    }
    return nullptr;
}

const char* kind_of(Stage stage) {
    switch (stage) {
        case Stage::growing:
            return "growing";
        case Stage::fasting:
            return "fasting";
        case Stage::receding:
            return "receding";
        case Stage::dead:
            return "died";
        case Stage::absent:
        case Stage::settling:
        case Stage::idle:
            break;
    }
    return "";
}

}  // namespace

Chronicle::Chronicle(const Layout& layout, int member)
    : layout_(layout), member_(member), stage_(layout.colonies.size(), Stage::settling) {}

void Chronicle::take(const Frame& frame) {
    for (std::size_t i = 0; i < stage_.size(); ++i) {
        const Stage stage = frame.reef.colonies[i].stage;
        if (stage == stage_[i]) continue;
        stage_[i] = stage;
        if (const char* words = beginning(stage))
            events_.push_back({frame.day_d, member_, kind_of(stage), static_cast<int>(i),
                               fmt::format("{} {}", layout_.colonies[i].name, words)});
    }
}

}  // namespace bedshade
