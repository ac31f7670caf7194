// Numbers one after another, apart by blanks, commas or line ends, with a word on the first that
// is invalid.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "sim/input/text/diagnostics.h"
#include "sim/input/text/table_reader.h"

namespace bedshade {

class NumberStream {
  public:
    /// Reads on from `text[offset]`, which stands at the start of line `line` of `file`.
    NumberStream(std::string_view text, std::size_t offset, int line, std::string file,
                 Diagnostics& diagnostics);

    /// The next number. `what` is how messages call it. Once a number is missing or is invalid,
    /// this one is reported, and it and all later ones come out as the low end of their range.
    double number(std::string_view what, Range range);
    int whole(std::string_view what, int low, int high);

    /// Reports an error at the number read last, and fails.
    void refuse(std::string what, std::string help = {});
    /// Reports anything left over.
    void finish(std::string_view after_what);
    bool failed() const { return failed_; }

  private:
    bool skip_gap();
    std::string_view take_word();
    double take(std::string_view what, Range range, bool whole);

    std::string_view text_;
    std::size_t at_, line_start_;
    int line_;
    std::string file_;
    Diagnostics& diagnostics_;
    Place last_;
    bool failed_ = false;
};

}  // namespace bedshade
