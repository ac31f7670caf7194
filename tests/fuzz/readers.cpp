#include "tests/fuzz/readers.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <unistd.h>

#include "sim/batch/plan.h"
#include "sim/batch/study.h"
#include "sim/export/export_csv.h"
#include "sim/export/replay_page.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/input/layout/measurements.h"
#include "sim/input/photometry/photometry_reader.h"
#include "sim/trajectory/run_layout.h"
#include "sim/trajectory/trajectory.h"

#include "tests/layout_texts.h"

namespace bedshade::fuzz {
namespace {

namespace fs = std::filesystem;

constexpr const char* kScenarios = BEDSHADE_SOURCE_DIR "/scenarios";

const std::string kBase = test::kTankUnderLamp + R"([[pump]]
name = "pump"
position = "2 30 40 cm"
toward = "60 30 20 cm"
flow = "800 gallon/h"
[[rock]]
name = "ledge"
shape = "slab"
centre = "60 30 20 cm"
size = "20 20 4 cm"
[[colony]]
name = "disc"
taxon = "fungia"
on = "sand"
position = "30 10 cm"
diameter = "5 cm"
)";

/// A folder of this process for readers that want a file; it goes when the process ends.
class Scratch {
  public:
    Scratch() : path_(fs::temp_directory_path() / ("bedshade_fuzz_" + std::to_string(::getpid()))) {
        fs::create_directories(path_);
    }
    ~Scratch() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;

    fs::path file(const std::string& name, std::string_view bytes) const {
        std::ofstream(path_ / name, std::ios::binary)
            .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        return path_ / name;
    }

  private:
    fs::path path_;
};

const Scratch& scratch() {
    static const Scratch folder;
    return folder;
}

/// What a terminal would obey must not be in a message.
void check_message(std::string_view message) {
    const bool obeyed = std::any_of(message.begin(), message.end(), [](char c) {
        return (static_cast<unsigned char>(c) < 0x20 && c != '\n') || c == 0x7F;
    });
    if (obeyed) throw std::logic_error("a message holds control characters");
    if (message.empty()) throw std::logic_error("a message is empty");
}

/// Runs a reader whose refusals are InputErrors and TrajectoryErrors. Says whether it read.
template <class Read>
bool reads(const Read& read) {
    try {
        read();
        return true;
    } catch (const InputError& error) {
        check_message(error.what());
    } catch (const TrajectoryError& error) {
        check_message(error.what());
    }
    return false;
}

/// Files that the text names lie among the scenarios. What a layout is resolved to must read back.
void read_layout_bytes(std::string_view bytes) {
    LayoutFile file;
    if (!reads([&] { file = read_layout_text(bytes, std::string(kScenarios) + "/fuzzed.toml"); }))
        return;
    for (const Diagnostic& warning : file.warnings) check_message(render(warning));
    LayoutOptions options;
    options.traits_text = file.traits_text;
    try {
        read_layout_text(file.text, "resolved.toml", options);
    } catch (const InputError& error) {
        throw std::logic_error("a resolved layout does not read back: " +
                               std::string(error.what()));
    }
}

/// The trait table's rows that kBase needs: the whole table takes longer than all the rest.
std::string short_traits() {
    const std::string whole = builtin_traits().text();
    const std::size_t row = whole.find("\nfungia,") + 1;
    return whole.substr(0, whole.find('\n') + 1) +
           whole.substr(row, whole.find('\n', row) + 1 - row);
}

LayoutOptions base_options() {
    static const std::string traits = short_traits();
    LayoutOptions options;
    options.traits_text = traits;
    return options;
}

void read_base_under(const fs::path& change) {
    LayoutOptions options = base_options();
    options.changes = {change};
    reads([&] { read_layout_text(kBase, "base.toml", options); });
}

void read_change(std::string_view bytes) { read_base_under(scratch().file("change.toml", bytes)); }

/// The study as a plan, and the first and the last of its runs as layouts.
void read_study_bytes(std::string_view bytes) {
    scratch().file("base.toml", kBase);
    const fs::path path = scratch().file("study.toml", bytes);
    is_study(path);
    reads([&] {
        Plan plan(read_study(path), base_options());
        plan.check();
        for (const std::uint64_t number : {std::uint64_t{0}, plan.runs() - 1})
            if (number < plan.runs()) plan.layout(plan.run(number));
    });
}

void read_traits(std::string_view bytes) {
    static const TraitTable builtin = builtin_traits();
    TraitTable table = builtin;
    reads([&] { table.overlay(bytes, "traits.csv"); });
}

const Layout& base_layout() {
    static const LayoutFile file = read_layout_text(kBase, "base.toml");
    return file.layout;
}

void read_meter(std::string_view bytes) {
    const fs::path path = scratch().file("meter.csv", bytes);
    reads([&] { read_meter_readings(path, base_layout()); });
}

void read_ruler(std::string_view bytes) {
    const fs::path path = scratch().file("ruler.csv", bytes);
    reads([&] { read_diameters(path, base_layout()); });
}

/// Read by itself, and as the beam of a lamp.
void read_photometry_bytes(std::string_view bytes) {
    Diagnostics diagnostics;
    read_photometry(bytes, "fuzzed.ies", diagnostics);
    reads([&] { diagnostics.throw_if_any(); });
    scratch().file("lamp.ies", bytes);
    read_base_under(
        scratch().file("lamp.toml", "[[lamp]]\nname = \"left\"\nphotometry = \"lamp.ies\"\n"));
}

void read_mesh(const std::string& name, std::string_view bytes) {
    scratch().file(name, bytes);
    read_base_under(
        scratch().file("rock.toml", "[[rock]]\nname = \"mesh\"\nshape = \"mesh\"\nfile = \"" +
                                        name + "\"\nat = \"90 30 0 cm\"\nfit = \"20 20 20 cm\"\n"));
}

void read_obj(std::string_view bytes) { read_mesh("rock.obj", bytes); }
void read_stl(std::string_view bytes) { read_mesh("rock.stl", bytes); }

/// Everything that a command takes from a run: its frames, its flow, its layout, tables, the page.
void read_trajectory(std::string_view bytes) {
    const fs::path path = scratch().file("run.h5", bytes);
    reads([&] {
        const Trajectory run(path);
        run.flow();
        layout_of(run);
        export_csv(run, [](const std::string&, const std::string&) {});
        replay_json(run);
    });
}

}  // namespace

const std::vector<Reader>& readers() {
    static const std::vector<Reader> all = {{"layout", read_layout_bytes},
                                            {"change", read_change},
                                            {"study", read_study_bytes},
                                            {"traits", read_traits},
                                            {"meter", read_meter},
                                            {"ruler", read_ruler},
                                            {"photometry", read_photometry_bytes},
                                            {"obj", read_obj},
                                            {"stl", read_stl},
                                            {"trajectory", read_trajectory}};
    return all;
}

const Reader& reader_called(const std::string& name) {
    for (const Reader& reader : readers())
        if (reader.name == name) return reader;
    throw std::invalid_argument("there is no reader '" + name + "'");
}

}  // namespace bedshade::fuzz
