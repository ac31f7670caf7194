// The mean of a value over the last days, from values on single days.
#pragma once

#include <optional>
#include <vector>

namespace bedshade {

/// The value is linear between two days, so that the mean does not depend on the
/// step.
class WindowMean {
  public:
    explicit WindowMean(double window_d) : window_d_(window_d) {}

    /// Days must rise. The mean over the window that ends on this day; nothing while the days seen
    /// do not fill it.
    std::optional<double> add(double day_d, double value);

    /// Continues from a window that ends on a day with this mean.
    void restore(double day_d, double mean);

    /// The mean over all days still held (the window, or less while it is not full); nothing
    /// before the first day.
    std::optional<double> so_far() const;

  private:
    struct Point {
        double day_d, value, sum;  // integral up to that day
    };
    double window_d_;
    std::vector<Point> points_;  // those the window can reach
};

}  // namespace bedshade
