// A study: which layouts to run, and what varies from one run to the next.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "sim/batch/key_path.h"
#include "sim/input/text/diagnostics.h"

namespace bedshade {

/// A change laid over a layout: TOML text, and the file that its messages and the files it names go
/// by.
struct Overlay {
    std::string text;
    std::string file;
};

/// A layout of the study; `name` is what the ranking calls it.
struct StudyLayout {
    std::string name;
    std::filesystem::path file;
};

/// One way of changing the layout; no layers leave it as it is.
struct StudyChange {
    std::string name;
    std::vector<Overlay> layers;
};

/// Numbers with one unit at both ends, evenly spaced or sampled between them.
struct Span {
    std::vector<double> from, to;  ///< one number, or the two or three of a point
    std::string unit;              ///< empty: bare numbers
    int steps = 0;                 ///< 0: sampled
};

/// A key that varies: by listed values (TOML text), or over a span.
struct Varied {
    std::string name;
    KeyPath key;
    Place place;  ///< of the key in the study
    std::vector<std::string> values;
    std::optional<Span> span;

    bool sampled() const { return span && span->steps == 0; }
};

enum class SampleKind {
    even,    ///< a low-discrepancy sequence: the points keep away from each other
    random,  ///< independent
};

/// All keys that are sampled are sampled together: `runs` points.
struct Sample {
    SampleKind kind = SampleKind::even;
    std::uint64_t runs = 0;
};

struct Study {
    std::string title;
    std::string file;           ///< of the study; empty for plain layouts
    std::optional<int> months;  ///< the layout's own where none is given
    std::uint64_t seed = 1;
    int members = 1;
    std::vector<StudyLayout> layouts;
    std::vector<StudyChange> changes;  ///< none: as it is
    std::vector<Varied> varied;
    std::optional<Sample> sample;
};

/// Reads a study file. Throws InputError.
Study read_study(const std::filesystem::path& path);

/// Whether a file is a study rather than a layout: it has a base, or lists layouts, changes or what
/// varies. A file that cannot be read is none.
bool is_study(const std::filesystem::path& path);

}  // namespace bedshade
