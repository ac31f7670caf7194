// A tank so small that a month of it takes milliseconds, and a folder to run it in.
#pragma once

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "tests/layout_texts.h"

namespace bedshade::test {

inline const std::string kToy = "format = 1\n" + kSmallTank + R"([[lamp]]
name = "lamp"
position = "15 10 cm"
height = "15 cm"
shape = "point"
photon_flux = 40
[[colony]]
name = "disc"
taxon = "fungia"
on = "sand"
position = "15 10 cm"
diameter = "5 cm"
height = "2 cm"
[[pump]]
name = "pump"
position = "2 10 12 cm"
toward = "28 10 12 cm"
nozzle = "20 mm"
flow = "300 L/h"
)";

/// A folder that holds `toy.toml` and is gone again when the test ends.
class ToyFolder {
  public:
    ToyFolder() {
        std::string name = (std::filesystem::temp_directory_path() / "bedshade_XXXXXX").string();
        REQUIRE(::mkdtemp(name.data()) != nullptr);
        path_ = name;
        write("toy.toml", kToy);
    }
    ~ToyFolder() { std::filesystem::remove_all(path_); }
    ToyFolder(const ToyFolder&) = delete;
    ToyFolder& operator=(const ToyFolder&) = delete;

    std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
    std::filesystem::path write(const std::string& name, const std::string& text) const {
        std::ofstream(path_ / name) << text;
        return path_ / name;
    }
    /// A study of the toy with these [[vary]] and whatever else.
    std::filesystem::path study(const std::string& rest,
                                const std::string& name = "study.toml") const {
        return write(name, "format = 1\nbase = \"toy.toml\"\n" + rest);
    }

  private:
    std::filesystem::path path_;
};

}  // namespace bedshade::test
