#include "tools/bedshade/run_files.h"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fmt/format.h>
#include <stdexcept>

#include "sim/base/text_output.h"
#include "sim/export/replay_page.h"

#include "tools/bedshade/output_options.h"
#include "tools/bedshade/page_shell.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

fs::path new_folder() {
    std::string name = (fs::temp_directory_path() / "bedshade-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr)
        throw std::runtime_error(
            fmt::format("cannot make a folder for the run: {}", std::strerror(errno)));
    return name;
}

}  // namespace

RunFiles::RunFiles(const Arguments& arguments)
    : out_(output_option(arguments, "out")), page_(output_option(arguments, "page")) {
    check_apart(arguments, {"out", "page"});
    if (!page_) return;
    page_shell();  // throws, before anything was run, where the program has no page
    if (!out_) folder_ = new_folder();
}

RunFiles::~RunFiles() {
    std::error_code ignored;
    if (!folder_.empty()) fs::remove_all(folder_, ignored);
}

std::optional<std::string> RunFiles::trajectory() const {
    return folder_.empty() ? out_ : (folder_ / "run.h5").string();
}

std::vector<std::string> RunFiles::kept() const {
    std::vector<std::string> files;
    for (const auto& file : {out_, page_})
        if (file) files.push_back(*file);
    return files;
}

void RunFiles::write_page() const {
    if (page_) write_text(*page_, replay_page(Trajectory(*trajectory()), page_shell()));
}

}  // namespace bedshade
