#include "sim/verdict/window_mean.h"

namespace bedshade {

std::optional<double> WindowMean::add(double day_d, double value) {
    Point now{day_d, value, 0.0};
    if (!points_.empty()) {
        const Point& last = points_.back();
        now.sum = last.sum + 0.5 * (day_d - last.day_d) * (last.value + value);
    }
    points_.push_back(now);
    const double from_d = day_d - window_d_;
    if (points_.front().day_d > from_d) return std::nullopt;
    while (points_[1].day_d <= from_d) points_.erase(points_.begin());
    const Point &a = points_[0], &b = points_[1];
    const double part_d = from_d - a.day_d;
    const double before =
        part_d * (a.value + 0.5 * (b.value - a.value) * part_d / (b.day_d - a.day_d));
    return (now.sum - a.sum - before) / window_d_;
}

void WindowMean::restore(double day_d, double mean) {
    points_ = {{day_d - window_d_, mean, 0.0}, {day_d, mean, window_d_ * mean}};
}

std::optional<double> WindowMean::so_far() const {
    if (points_.empty()) return std::nullopt;
    const Point &a = points_.front(), &b = points_.back();
    return b.day_d > a.day_d ? (b.sum - a.sum) / (b.day_d - a.day_d) : b.value;
}

}  // namespace bedshade
