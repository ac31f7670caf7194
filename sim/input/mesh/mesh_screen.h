// Checks a mesh file before a library reads it.
//
// The importer behind `import_mesh` reads dozens of statements that shape has no use for, follows
// material files, and promises nothing about hostile bytes. So each file is gone through here
// first, with messages that name lines, and only its corners and faces are handed on, written
// again.
#pragma once

#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>

namespace bedshade {

/// Why a mesh file is invalid. `what` is lower case and names a line where there is one.
struct MeshFault : std::runtime_error {
    explicit MeshFault(const std::string& what, std::string help_text = {})
        : std::runtime_error(what), help(std::move(help_text)) {}
    std::string help;
};

/// Corners and faces alone, in a format the importer knows.
struct CleanMesh {
    std::string bytes;
    const char* format = "";    ///< "obj" or "stl"
    std::size_t triangles = 0;  ///< that its faces will fall into
};

/// More corners than this a face are refused: cutting a polygon takes their number squared.
inline constexpr std::size_t kMostCornersOfAFace = 100;
/// Coordinates beyond this have no place among single-precision metres [units of the file].
inline constexpr double kFarthestCoordinate = 1e9;

/// Wavefront OBJ: `v` and `f` statements; all others are passed over, material files unopened.
/// Throws MeshFault.
CleanMesh screen_obj(std::string_view text, std::size_t most_triangles);

/// STL, text or binary, distinguished by content. Throws MeshFault.
CleanMesh screen_stl(std::string_view bytes, std::size_t most_triangles);

/// The number a word spells, finite and within `kFarthestCoordinate`. Throws MeshFault.
float coordinate(std::string_view word, std::size_t line);

/// A text by lines, and a line by words; both keep their place in the text.
class Lines {
  public:
    explicit Lines(std::string_view text) : rest_(text) {}
    /// Steps to the next line; false at the end.
    bool next();
    /// The next word of this line, empty at its end.
    std::string_view word();
    std::size_t number() const { return number_; }  ///< from 1

  private:
    std::string_view rest_, line_;
    std::size_t number_ = 0;
};

}  // namespace bedshade
