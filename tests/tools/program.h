// The program run through the shell, as its user would, for tests of what it prints and writes.
#pragma once

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <sys/wait.h>

#include "tests/expected_messages.h"

namespace bedshade::test {

namespace fs = std::filesystem;

inline const std::string kStarving = BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml";
inline const std::string kClear = BEDSHADE_SOURCE_DIR "/scenarios/ledge_clear_of_bed.toml";

/// A folder that is gone again when the test ends.
class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "bedshade_XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path_ = name;
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::string file(const std::string& name) const { return (path_ / name).string(); }
    std::size_t entries() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), {}));
    }

  private:
    fs::path path_;
};

struct Ran {
    int code = -1;
    std::string out, err;
};

/// Where the programs of these tests keep their flow fields.
inline const std::string& cache() {
    static const Folder folder;
    static const std::string path = folder.file("cache");
    return path;
}

/// What a program ended with, from its status; -1 where a signal ended it.
inline int code_of(int status) { return WIFEXITED(status) ? WEXITSTATUS(status) : -1; }

/// Waits for a program, and tells what it ended with.
inline int code_of_ended(pid_t program) {
    int status = 0;
    ::waitpid(program, &status, 0);
    return code_of(status);
}

/// Runs `bedshade WORDS` through the shell.
inline Ran run(const std::string& words, const std::string& wrapped = "") {
    const Folder folder;
    const std::string line = "BEDSHADE_CACHE=" + cache() + " " + wrapped +
                             " " BEDSHADE_PROGRAM " " + words + " >" + folder.file("out") + " 2>" +
                             folder.file("err");
    const int status = std::system(line.c_str());
    return {code_of(status), text_of(folder.file("out")), text_of(folder.file("err"))};
}

inline bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

inline void write(const std::string& path, const std::string& text) { std::ofstream(path) << text; }

/// The command cannot be carried out: exit 2, `reason` on standard error, nothing on output.
inline void check_refused(const std::string& words, const std::string& reason) {
    const Ran refused = run(words);
    INFO(words << "\n" << refused.err);
    CHECK(refused.code == 2);
    CHECK(holds(refused.err, reason));
    CHECK(refused.out.empty());
}

}  // namespace bedshade::test
