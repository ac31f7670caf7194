#include "sim/trajectory/hdf5_screen.h"

#include <cstdint>
#include <fstream>
#include <string>
#include <string_view>

#include "sim/trajectory/hdf5_reader.h"

namespace bedshade {
namespace {

/// A store begins with its mark, its version (1) and three zeros, which no text can hold.
constexpr std::string_view kStoreMark("GCOL\x01\0\0\0", 8);
constexpr std::string_view kFileMark("\x89HDF\r\n\x1A\n", 8);
/// Bytes before the first text of a store, and before each.
constexpr std::uint64_t kHead = 16;
constexpr std::size_t kBlock = std::size_t{1} << 20U;

class File {
  public:
    explicit File(const std::filesystem::path& path)
        : stream_(path, std::ios::binary), size_(std::filesystem::file_size(path)) {}

    std::uint64_t size() const { return size_; }

    /// As many bytes as there are from there on, at most `count`.
    std::string bytes(std::uint64_t at, std::size_t count) {
        std::string read(count, '\0');
        stream_.clear();
        stream_.seekg(static_cast<std::streamoff>(at));
        stream_.read(read.data(), static_cast<std::streamsize>(count));
        read.resize(static_cast<std::size_t>(stream_.gcount()));
        return read;
    }

  private:
    std::ifstream stream_;
    std::uint64_t size_ = 0;
};

std::uint64_t number_at(const std::string& bytes, std::size_t at, int count) {
    std::uint64_t number = 0;
    for (int i = count - 1; i >= 0; --i)
        number = number << 8U | static_cast<unsigned char>(bytes[at + static_cast<std::size_t>(i)]);
    return number;
}

/// Bytes that a text's entry takes, its head included; 0 is never right.
std::uint64_t entry_size(const std::string& head) {
    const std::uint64_t index = number_at(head, 0, 2), size = number_at(head, 8, 8);
    // The entry of what is free counts its head itself.
    if (index == 0) return size;
    const std::uint64_t padded = (size + 7) / 8 * 8;
    return padded < size || padded > padded + kHead ? 0 : padded + kHead;
}

/// Walks the store at a place. `entries` are those walked so far in the whole file: more than it
/// has room for, and its stores lie in one another.
void check_store(File& file, std::uint64_t at, std::uint64_t& entries) {
    const std::string head = file.bytes(at, kHead);
    if (head.size() < kHead) return;
    const std::uint64_t size = number_at(head, 8, 8);
    if (size < kHead || size > file.size() - at) throw Mismatch("its string heap is truncated");
    std::uint64_t left = size - kHead, next = at + kHead;
    while (left >= kHead) {
        if (++entries > file.size() / kHead) throw Mismatch("its string heaps overlap");
        const std::uint64_t entry = entry_size(file.bytes(next, kHead));
        if (entry < kHead || entry > left) throw Mismatch("its string heap is damaged");
        left -= entry;
        next += entry;
    }
}

void check_stores_in(File& file, std::uint64_t begin, const std::string& block,
                     std::uint64_t& entries) {
    for (auto found = block.find(kStoreMark); found != std::string::npos;
         found = block.find(kStoreMark, found + 1))
        check_store(file, begin + found, entries);
}

/// Addresses and sizes of eight bytes, which is how stores are read here.
void check_widths(File& file) {
    const std::string head = file.bytes(0, kHead);
    if (head.size() < kHead || head.compare(0, kFileMark.size(), kFileMark) != 0)
        throw Mismatch("it has no HDF5 signature");
    const bool early = head[8] < 2;
    if (head[early ? 13 : 9] != 8 || head[early ? 14 : 10] != 8)
        throw Mismatch("its addresses or sizes are not eight bytes long");
}

}  // namespace

void screen_hdf5(const std::filesystem::path& path) {
    File file(path);
    check_widths(file);
    std::uint64_t entries = 0;
    // Blocks overlap by all but a byte of a mark, so that each is found in one of them.
    for (std::uint64_t begin = 0; begin < file.size(); begin += kBlock)
        check_stores_in(file, begin, file.bytes(begin, kBlock + kStoreMark.size() - 1), entries);
}

}  // namespace bedshade
