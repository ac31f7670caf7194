#include "sim/export/svg.h"

#include <fmt/format.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

std::string attributes(const Paint& paint) {
    std::string out = fmt::format(R"( fill="{}")", paint.fill);
    if (paint.stroke != "none")
        out += fmt::format(R"( stroke="{}" stroke-width="{:.2g}" stroke-linejoin="round")",
                           paint.stroke, paint.stroke_width);
    if (paint.opacity < 1.0) out += fmt::format(R"( opacity="{:.2g}")", paint.opacity);
    if (paint.dashed) out += R"( stroke-dasharray="4 3")";
    return out;
}

}  // namespace

std::string xml_text(std::string_view text) {
    std::string out;
    for (const char c : escape_control(text)) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&apos;";
                break;
            default:
                out += c;
        }
    }
    return out;
}

Svg::Svg(double width, double height) : width_(width), height_(height) {}

void Svg::rect(const Vec2& corner, const Vec2& size, const Paint& paint) {
    body_ += fmt::format(R"(<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}"{}/>)",
                         corner.x(), corner.y(), size.x(), size.y(), attributes(paint)) +
             "\n";
}

void Svg::circle(const Vec2& centre, double radius, const Paint& paint) {
    body_ += fmt::format(R"(<circle cx="{:.1f}" cy="{:.1f}" r="{:.1f}"{}/>)", centre.x(),
                         centre.y(), radius, attributes(paint)) +
             "\n";
}

void Svg::line(const Vec2& from, const Vec2& to, const Paint& paint) {
    body_ += fmt::format(R"(<line x1="{:.1f}" y1="{:.1f}" x2="{:.1f}" y2="{:.1f}"{}/>)", from.x(),
                         from.y(), to.x(), to.y(), attributes(paint)) +
             "\n";
}

void Svg::polygon(const std::vector<Vec2>& corners, const Paint& paint) {
    body_ += "<polygon points=\"";
    for (const Vec2& p : corners) body_ += fmt::format("{:.1f},{:.1f} ", p.x(), p.y());
    body_ += fmt::format("\"{}/>\n", attributes(paint));
}

void Svg::text(const Vec2& at, std::string_view words, double size, const char* anchor, bool heavy,
               bool halo) {
    body_ += fmt::format(
                 R"(<text x="{:.1f}" y="{:.1f}" font-size="{:.3g}" text-anchor="{}"{}{}>{}</text>)",
                 at.x(), at.y(), size, anchor, heavy ? R"( font-weight="600")" : "",
                 halo ? R"( stroke="#ffffff" stroke-width="3" paint-order="stroke")" : "",
                 xml_text(words)) +
             "\n";
}

std::string Svg::finish() const {
    return fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" "
        "width=\"{0:.0f}\" "
        "height=\"{1:.0f}\" font-family=\"system-ui, 'DejaVu Sans', Arial, sans-serif\" "
        "fill=\"#1f2933\">\n<rect width=\"{0:.0f}\" height=\"{1:.0f}\" "
        "fill=\"#ffffff\"/>\n{2}</svg>\n",
        width_, height_, body_);
}

}  // namespace bedshade
