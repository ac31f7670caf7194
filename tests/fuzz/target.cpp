// What libFuzzer calls: one program for each reader, named when it is compiled.
#include <cstddef>
#include <cstdint>

#include "tests/fuzz/readers.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    static const bedshade::fuzz::Reader& reader =
        bedshade::fuzz::reader_called(BEDSHADE_FUZZ_READER);
    reader.read({reinterpret_cast<const char*>(bytes), size});
    return 0;
}
