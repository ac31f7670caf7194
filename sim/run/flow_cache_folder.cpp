#include "sim/run/flow_cache_folder.h"

#include <cstring>
#include <fstream>
#include <unistd.h>

#include "sim/base/file_eviction.h"
#include "sim/base/sha256.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kMagic = "bedshade flow 1\n";
constexpr std::size_t kDigestSize = 64;
/// Anything larger is not ours.
constexpr std::uintmax_t kLargestFile_bytes = 64U << 20U;

template <class T>
void append(std::string& bytes, const T* values, std::size_t count) {
    bytes.append(reinterpret_cast<const char*>(values), count * sizeof(T));
}

std::string packed(const std::string& digest, const TankFlow& flow) {
    std::string bytes(kMagic);
    bytes += digest;
    append(bytes, flow.grid.cells.data(), 3);
    append(bytes, flow.grid.cell_m.data(), 3);
    for (const Field& u : flow.velocity_m_s) append(bytes, u.data(), u.size());
    append(bytes, flow.turbulent_speed_m_s.data(), flow.turbulent_speed_m_s.size());
    for (const bool solid : flow.solid) bytes += solid ? '1' : '0';
    return bytes + sha256_hex(bytes);
}

/// Takes values off the front of bytes.
class Unpacker {
  public:
    explicit Unpacker(std::string_view bytes) : bytes_(bytes) {}
    template <class T>
    void take(T* values, std::size_t count) {
        std::memcpy(values, bytes_.data(), count * sizeof(T));
        bytes_.remove_prefix(count * sizeof(T));
    }
    std::size_t left() const { return bytes_.size(); }
    char next() {
        const char c = bytes_.front();
        bytes_.remove_prefix(1);
        return c;
    }

  private:
    std::string_view bytes_;
};

std::shared_ptr<const TankFlow> unpacked(std::string_view body) {
    Unpacker unpacker(body);
    auto flow = std::make_shared<TankFlow>();
    unpacker.take(flow->grid.cells.data(), 3);
    unpacker.take(flow->grid.cell_m.data(), 3);
    const std::size_t size = flow->grid.size();
    if (unpacker.left() != size * (4 * sizeof(double) + 1)) return nullptr;
    for (Field* values : {&flow->velocity_m_s[0], &flow->velocity_m_s[1], &flow->velocity_m_s[2],
                          &flow->turbulent_speed_m_s}) {
        values->resize(size);
        unpacker.take(values->data(), size);
    }
    for (std::size_t i = 0; i < size; ++i) flow->solid.push_back(unpacker.next() == '1');
    return flow;
}

std::string read_whole(const fs::path& path) {
    std::error_code failed;
    const auto size = fs::file_size(path, failed);
    if (failed || size > kLargestFile_bytes) return {};
    std::string bytes(size, '\0');
    std::ifstream file(path, std::ios::binary);
    if (!file.read(bytes.data(), static_cast<std::streamsize>(size))) return {};
    return bytes;
}

/// What a file holds between its head and its own digest; nothing if it is not whole.
std::string_view body_of(std::string_view bytes, const std::string& digest) {
    const std::string head = std::string(kMagic) + digest;
    constexpr std::size_t kLeastBody = 3 * sizeof(int) + 3 * sizeof(double);
    if (bytes.size() < head.size() + kLeastBody + kDigestSize) return {};
    const std::string_view signed_part = bytes.substr(0, bytes.size() - kDigestSize);
    if (signed_part.substr(0, head.size()) != head) return {};
    if (sha256_hex(signed_part) != bytes.substr(signed_part.size())) return {};
    return signed_part.substr(head.size());
}

}  // namespace

fs::path FlowCacheFolder::file_of(const std::string& digest) const {
    return folder_ / (digest + ".flow");
}

std::shared_ptr<const TankFlow> FlowCacheFolder::take(const std::string& key) {
    const std::string digest = sha256_hex(key);
    const fs::path path = file_of(digest);
    const std::string bytes = read_whole(path);
    const std::string_view body = body_of(bytes, digest);
    if (body.empty()) return nullptr;
    std::error_code ignored;
    fs::last_write_time(path, fs::file_time_type::clock::now(), ignored);
    return unpacked(body);
}

void FlowCacheFolder::put(const std::string& key, const TankFlow& flow) {
    const std::string digest = sha256_hex(key);
    std::error_code failed;
    fs::create_directories(folder_, failed);
    const fs::path part = folder_ / (digest + "." + std::to_string(getpid()) + ".part");
    {
        const std::string bytes = packed(digest, flow);
        std::ofstream file(part, std::ios::binary);
        file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        file.close();
        if (!file) {
            fs::remove(part, failed);
            return;
        }
    }
    fs::rename(part, file_of(digest), failed);
    evict_least_recently_used(folder_, {".flow", ".part"}, kMostFiles);
}

}  // namespace bedshade
