#include "sim/input/unused_keys.h"

#include <array>
#include <fmt/format.h>
#include <set>
#include <string>
#include <string_view>

namespace bedshade {
namespace {

struct UnusedKey {
    std::string_view path;   ///< sections joined with dots; a list's name stands for its items
    std::string_view value;  ///< of a text, when only that one has no effect
    std::string_view why;
};

/// Whoever makes a key count deletes its row.
constexpr std::array kUnusedKeys = {
    UnusedKey{"colony.fixed", "", "no command moves colonies"},
};

class Walk {
  public:
    explicit Walk(Problems& problems) : problems_(problems) {}

    void table(const toml::table& table, const std::string& above) {
        for (auto&& [key, value] : table) {
            const std::string path =
                above.empty() ? std::string(key.str()) : fmt::format("{}.{}", above, key.str());
            look_up(path, value);
            below(value, path);
        }
    }

  private:
    void below(const toml::node& value, const std::string& path) {
        if (const auto* inner = value.as_table()) table(*inner, path);
        if (const auto* list = value.as_array())
            for (const auto& item : *list)
                if (item.is_table()) table(*item.as_table(), path);
    }

    void look_up(const std::string& path, const toml::node& value) {
        for (const auto& row : kUnusedKeys) {
            if (row.path != path || !is_meant(row, value) || !told_.insert(path).second) continue;
            const std::string given =
                row.value.empty() ? path : fmt::format("{} = \"{}\"", path, row.value);
            problems_.warn(place_of(value), fmt::format("`{}` has no effect: {}", given, row.why));
        }
    }

    static bool is_meant(const UnusedKey& row, const toml::node& value) {
        return row.value.empty() || value.value<std::string_view>() == row.value;
    }

    Problems& problems_;
    std::set<std::string> told_;
};

}  // namespace

void warn_of_unused_keys(const toml::table& layout, Problems& problems) {
    Walk(problems).table(layout, {});
}

}  // namespace bedshade
