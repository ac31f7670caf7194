// Every reader of files from outside, as a function of bytes: what the fuzzers drive, and what the
// replay of their findings (replay_test.cpp) drives.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace bedshade::fuzz {

struct Reader {
    std::string name;  ///< of the fuzzer, and of its folders of inputs
    /// Comes back when the bytes were read, or refused in words that no terminal obeys. Throws, or
    /// does not come back, when they were neither.
    void (*read)(std::string_view bytes);
};

const std::vector<Reader>& readers();

/// Throws std::invalid_argument when there is none of that name.
const Reader& reader_called(const std::string& name);

}  // namespace bedshade::fuzz
