#include "sim/input/layout/sections.h"

#include <fmt/format.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

/// The tables of a list, or nothing when the value is no list of tables.
const toml::array* list_of_tables(TableReader& from, const char* key, std::size_t most) {
    const auto* found = from.node(key);
    if (!found) return nullptr;
    const auto* list = found->as_array();
    if (!list || (!list->empty() && !list->is_array_of_tables())) {
        from.error(key,
                   fmt::format("{} is {}, but must be a list", from.label(key), describe(*found)),
                   fmt::format("write [[{}]] with double brackets", key));
        return nullptr;
    }
    if (list->size() <= most) return list;
    from.error(key, fmt::format("there are {} of [[{}]], but at most {} are allowed", list->size(),
                                key, most));
    return nullptr;
}

/// How messages call a thing: by its name, or by its number when it has none.
std::string title_of(const toml::table& item, const char* key, std::size_t index) {
    const auto name = item["name"].value<std::string_view>();
    return name && !name->empty() ? fmt::format("{} \"{}\"", key, escape_control(*name))
                                  : fmt::format("{} {}", key, index + 1);
}

}  // namespace

void for_each_item(TableReader& from, const char* key, std::size_t most,
                   const std::function<void(TableReader&)>& read) {
    const auto* list = list_of_tables(from, key, most);
    if (!list) return;
    for (std::size_t i = 0; i < list->size(); ++i) {
        const auto& item = *(*list)[i].as_table();
        TableReader reader(item, title_of(item, key, i), from.diagnostics());
        read(reader);
        reader.finish();
    }
}

void for_each_named(TableReader& from, const char* key, std::size_t most,
                    const std::function<void(TableReader&, const std::string&)>& read) {
    for_each_item(from, key, most, [&](TableReader& item) {
        std::string name;
        if (item.text("name", name, Need::required) && name.empty())
            item.error("name", fmt::format("a {} has an empty name", key));
        read(item, name);
    });
}

}  // namespace bedshade
