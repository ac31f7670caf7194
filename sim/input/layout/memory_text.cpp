#include "sim/input/layout/memory_text.h"

#include <cmath>
#include <fmt/format.h>
#include <iterator>

#include "sim/base/number_text.h"

namespace bedshade {
namespace {

/// Far beyond every length, day and light there is.
constexpr double kLargest = 1e12;

/// Puts numbers down one after the other; how many there are goes before a list.
class NumberWriter {
  public:
    void number(double& value) {
        fmt::format_to(std::back_inserter(text_), "{}{}", text_.empty() ? "" : " ", value);
    }
    std::size_t count(std::size_t have) {
        double number_of = static_cast<double>(have);
        number(number_of);
        return have;
    }
    const std::string& text() const { return text_; }

  private:
    std::string text_;
};

/// Takes them up again in the same order. Once one will not do, all later ones are 0.
class NumberReader {
  public:
    explicit NumberReader(std::string_view text) : text_(text) {}

    void number(double& value) {
        value = 0.0;
        while (!text_.empty() && text_.front() == ' ') text_.remove_prefix(1);
        const std::string_view word = text_.substr(0, text_.find(' '));
        const auto found = number_in(word);
        if (!found || std::abs(*found) > kLargest) fail();
        if (failed_) return;
        text_.remove_prefix(word.size());
        value = *found;
    }
    std::size_t count(std::size_t /*have*/) {
        double found = 0.0;
        number(found);
        // Each of them takes a figure and a blank at least.
        const std::size_t most = text_.size() / 2 + 1;
        if (found < 0.0 || found != std::floor(found) || found > static_cast<double>(most)) fail();
        return failed_ ? 0 : static_cast<std::size_t>(found);
    }
    bool fine() const { return !failed_ && text_.empty(); }
    void fail() {
        failed_ = true;
        text_ = {};
    }

  private:
    std::string_view text_;
    bool failed_ = false;
};

template <class Io, class Container>
void each(Io& io, Container& numbers) {
    for (double& value : numbers) io.number(value);
}

template <class Io>
void list(Io& io, std::vector<double>& numbers) {
    numbers.resize(io.count(numbers.size()));
    each(io, numbers);
}

template <class Io, std::size_t N>
void list(Io& io, std::vector<std::array<double, N>>& rows) {
    rows.resize(io.count(rows.size()));
    for (auto& row : rows) each(io, row);
}

template <class Io>
void point(Io& io, Vec3& at_m) {
    for (int axis = 0; axis < 3; ++axis) io.number(at_m[axis]);
}

template <class Io>
void flag(Io& io, bool& value) {
    value = io.count(value ? 1 : 0) > 0;
}

/// Something that may be missing: whether it is there, and it.
template <class Io, class Thing, class Each>
void maybe(Io& io, std::optional<Thing>& thing, const Each& its_numbers) {
    bool there = thing.has_value();
    flag(io, there);
    if (!there) return;
    if (!thing) thing.emplace();
    its_numbers(*thing);
}

template <class Io>
void shape(Io& io, DrawnShape& drawn) {
    flag(io, drawn.present);
    point(io, drawn.position_m);
    each(io, drawn.radius_m);
    io.number(drawn.height_m);
}

template <class Io>
void numbers_of(Io& io, ColonyMemory& memory) {
    for (DrawnShape* drawn : {&memory.drawn, &memory.received, &memory.pictured}) shape(io, *drawn);
    list(io, memory.top_light);
    list(io, memory.under_light);
    list(io, memory.baseline.light);
    list(io, memory.baseline.scale);
    list(io, memory.baseline.left);
    io.number(memory.need_guess);
    point(io, memory.lee_base_m);
    io.number(memory.lee_radius_m);
    io.number(memory.lee_height_m);
    list(io, memory.falls);
    for (MeanPoints& points : memory.carbon) list(io, points);
    io.number(memory.carbon_day_d);
    maybe(io, memory.carbon_mean, [&](double& mean) { io.number(mean); });
    io.number(memory.too_slow_since_d);
    io.number(memory.too_fast_since_d);
    maybe(io, memory.home_m, [&](Vec3& home_m) { point(io, home_m); });
}

template <class Io>
void numbers_of(Io& io, TankMemory& memory) {
    list(io, memory.bed_light);
    list(io, memory.solid_light);
}

template <class Memory>
std::string text_of(Memory memory) {
    NumberWriter writer;
    numbers_of(writer, memory);
    return writer.text();
}

template <class Memory>
std::optional<Memory> memory_in(std::string_view text) {
    NumberReader reader(text);
    Memory memory;
    numbers_of(reader, memory);
    return reader.fine() ? std::optional(std::move(memory)) : std::nullopt;
}

/// Sizes that no shape has would only be found out when it is drawn.
bool can_be_drawn(const DrawnShape& drawn) {
    constexpr double kFarthest_m = 100.0;
    double most = std::max(drawn.position_m.cwiseAbs().maxCoeff(), drawn.height_m);
    double least = drawn.height_m;
    for (const double radius_m : drawn.radius_m) {
        most = std::max(most, radius_m);
        least = std::min(least, radius_m);
    }
    return !drawn.present || (least >= 0.0 && most <= kFarthest_m);
}

/// Colonies and causes are told by number.
bool can_be_told(const FallFigures& fall) {
    constexpr double kMostColonies = 1e5, kLastCause = 2.0;
    return fall[0] >= 0.0 && fall[0] <= kLastCause && fall[7] >= -1.0 && fall[7] <= kMostColonies;
}

}  // namespace

std::string memory_text(const ColonyMemory& memory) { return text_of(memory); }
std::string memory_text(const TankMemory& memory) { return text_of(memory); }

std::optional<ColonyMemory> colony_memory(std::string_view text) {
    auto memory = memory_in<ColonyMemory>(text);
    if (!memory) return memory;
    bool fine = true;
    for (const DrawnShape* drawn : {&memory->drawn, &memory->received, &memory->pictured})
        fine = fine && can_be_drawn(*drawn);
    for (const FallFigures& fall : memory->falls) fine = fine && can_be_told(fall);
    return fine ? memory : std::nullopt;
}

std::optional<TankMemory> tank_memory(std::string_view text) { return memory_in<TankMemory>(text); }

}  // namespace bedshade
