// Minimal SVG output for drawing a tank.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/base/geometry.h"

namespace bedshade {

/// Text made safe for XML; control characters become escapes that can be seen.
std::string xml_text(std::string_view text);

/// How a shape is painted; every string is an SVG value.
struct Paint {
    std::string fill = "none";
    std::string stroke = "none";
    double stroke_width = 1.0;
    double opacity = 1.0;
    bool dashed = false;
};

/// A drawing in pixels, y down.
class Svg {
  public:
    Svg(double width, double height);

    void rect(const Vec2& corner, const Vec2& size, const Paint& paint);
    void circle(const Vec2& centre, double radius, const Paint& paint);
    void line(const Vec2& from, const Vec2& to, const Paint& paint);
    void polygon(const std::vector<Vec2>& corners, const Paint& paint);
    /// `anchor`: start, middle or end. A halo keeps text readable over a drawing.
    void text(const Vec2& at, std::string_view words, double size, const char* anchor = "start",
              bool heavy = false, bool halo = false);

    /// The whole document.
    std::string finish() const;

  private:
    double width_, height_;
    std::string body_;
};

}  // namespace bedshade
