#include "sim/batch/ranking_file.h"

#include <H5Cpp.h>
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fstream>
#include <nlohmann/json.hpp>

#include "sim/base/atomic_file.h"
#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/batch/ranking_columns.h"
#include "sim/trajectory/hdf5_dataset.h"
#include "sim/trajectory/hdf5_error.h"
#include "sim/trajectory/hdf5_probe.h"
#include "sim/trajectory/hdf5_reader.h"
#include "sim/trajectory/hdf5_screen.h"
#include "sim/trajectory/hdf5_types.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

constexpr const char* kFormat = "bedshade ranking";
constexpr std::uint64_t kVersion = 1;
constexpr hsize_t kMostRows = 10'000'000;
constexpr hsize_t kChunk = 4096;

/// A row of nothing but its key and its reason has no findings.
double cell_of(const NumberColumn& column, const RankedRow& ranked) {
    if (column.found && ranked.row.outcome != RunOutcome::done) return std::nan("");
    return column.get(ranked);
}

/// Settings of a row as text, as read_settings reads them: order and names as they were.
std::string settings_json(const BatchRow& row) {
    auto settings = nlohmann::ordered_json::object();
    for (const auto& [name, value] : row.settings) settings[name] = value;
    return json_line(settings);
}

std::vector<std::pair<std::string, std::string>> read_settings(const std::string& text) {
    std::vector<std::pair<std::string, std::string>> settings;
    const auto object = nlohmann::ordered_json::parse(text, nullptr, false);
    if (!object.is_object()) throw Mismatch("the settings of a row are no JSON object");
    for (const auto& [name, value] : object.items()) {
        if (!value.is_string()) throw Mismatch("a setting of a row is no text");
        settings.emplace_back(name, value.get<std::string>());
    }
    return settings;
}

class TableWriter {
  public:
    TableWriter(H5::H5File& file, const std::vector<RankedRow>& rows) : file_(file), rows_(rows) {
        run_ = create_dimension(file_, "rank", {"/rank", "1", "place in the ranking, from 1"},
                                H5::PredType::STD_I32LE, rows.size());
        std::vector<std::int32_t> ranks(rows.size());
        for (std::size_t i = 0; i < ranks.size(); ++i) ranks[i] = static_cast<std::int32_t>(i + 1);
        if (!ranks.empty()) run_.scale.write(ranks.data(), H5::PredType::NATIVE_INT32);
    }

    void add_numbers(const NumberColumn& column) {
        std::vector<double> numbers;
        for (const RankedRow& ranked : rows_) numbers.push_back(cell_of(column, ranked));
        H5::DataSet dataset =
            create_dataset(file_, {std::string("/") + column.name, "1", column.long_name},
                           H5::PredType::IEEE_F64LE, {{&run_, kChunk}});
        if (!numbers.empty()) dataset.write(numbers.data(), H5::PredType::NATIVE_DOUBLE);
    }

    template <class TextOf>
    void add_texts(const std::string& path, const std::string& long_name, const TextOf& text_of) {
        std::vector<std::string> texts;
        for (const RankedRow& ranked : rows_) texts.push_back(text_of(ranked.row));
        const H5::StrType type = padded_text(longest(texts));
        H5::DataSet dataset =
            create_dataset(file_, {path, "1", long_name}, type, {{&run_, kChunk}});
        if (!texts.empty()) dataset.write(padded_bytes(texts), type);
    }

    void add_seeds() {
        std::vector<std::uint64_t> seeds;
        for (const RankedRow& ranked : rows_) seeds.push_back(ranked.row.seed);
        H5::DataSet dataset = create_dataset(file_, {"/seed", "1", "seed of the random numbers"},
                                             H5::PredType::STD_U64LE, {{&run_, kChunk}});
        if (!seeds.empty()) dataset.write(seeds.data(), H5::PredType::NATIVE_UINT64);
    }

  private:
    H5::H5File& file_;
    const std::vector<RankedRow>& rows_;
    Dimension run_;
};

std::string joined(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& line : lines) text += line + '\n';
    return text;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::size_t begin = 0;
    for (std::size_t end; (end = text.find('\n', begin)) != std::string::npos; begin = end + 1)
        lines.push_back(text.substr(begin, end - begin));
    return lines;
}

void write_heading(H5::H5File& file, const Ranking& ranking) {
    write_attribute(file, "format", std::string(kFormat));
    write_attribute(file, "format_version", kVersion);
    std::string weights;
    for (const auto& [name, value] : named_weights(ranking.weights))
        weights += fmt::format("{}{}={}", weights.empty() ? "" : " ", name, value);
    write_attribute(file, "score_weights", weights);
    write_attribute(file, "plans", joined(ranking.plans));
    write_attribute(file, "gaps", joined(ranking.gaps));
    write_attribute(file, "complete", std::uint64_t{ranking.gaps.empty() ? 1U : 0U});
}

void write_tables(H5::H5File& file, const Ranking& ranking) {
    write_heading(file, ranking);
    TableWriter table(file, ranking.rows);
    for (const NumberColumn& column : number_columns()) table.add_numbers(column);
    for (const TextColumn& column : text_columns())
        table.add_texts(std::string("/") + column.name, column.long_name,
                        [&](const BatchRow& row) { return row.*column.text; });
    table.add_texts("/outcome", "done, refused or failed",
                    [](const BatchRow& row) { return std::string(to_string(row.outcome)); });
    table.add_seeds();
    table.add_texts("/settings", "what was varied, as a JSON object", settings_json);
    create_group(file, "/setting");
    std::size_t number = 0;
    for (const std::string& name : setting_names(ranking.rows))
        table.add_texts(fmt::format("/setting/{:03}", ++number), name,
                        [&](const BatchRow& row) { return setting_of(row, name); });
}

void require_length(std::size_t found, std::size_t expected, const char* name) {
    if (found != expected)
        throw Mismatch(fmt::format("column {} has {} rows, not {}", name, found, expected));
}

void read_columns(const H5::H5File& file, std::vector<BatchRow>& rows) {
    for (const TextColumn& column : text_columns()) {
        const auto texts = read_texts(file, std::string("/") + column.name, kMostRows);
        if (rows.empty()) rows.resize(texts.size());
        require_length(texts.size(), rows.size(), column.name);
        for (std::size_t i = 0; i < rows.size(); ++i) rows[i].*column.text = texts[i];
    }
    const auto outcomes = read_texts(file, "/outcome", kMostRows);
    const auto settings = read_texts(file, "/settings", kMostRows);
    require_length(outcomes.size(), rows.size(), "outcome");
    require_length(settings.size(), rows.size(), "settings");
    for (std::size_t i = 0; i < rows.size(); ++i) {
        rows[i].settings = read_settings(settings[i]);
        if (rows[i].key.size() != kKeyDigits) throw Mismatch("a row has no key");
        rows[i].outcome = outcomes[i] == "done"      ? RunOutcome::done
                          : outcomes[i] == "refused" ? RunOutcome::refused
                                                     : RunOutcome::failed;
    }
}

void read_numbers_into(const H5::H5File& file, std::vector<BatchRow>& rows) {
    for (const NumberColumn& column : number_columns()) {
        if (column.set == nullptr) continue;
        const auto numbers = read_numbers(file, std::string("/") + column.name, kMostRows);
        require_length(numbers.size(), rows.size(), column.name);
        for (std::size_t i = 0; i < rows.size(); ++i)
            if (std::isfinite(numbers[i]) && std::abs(numbers[i]) < 1e9)
                column.set(rows[i], numbers[i]);
    }
    H5::DataSet seeds = open_dataset(file, "/seed", H5T_INTEGER, 1);
    require_length(extent_of(seeds)[0], rows.size(), "seed");
    std::vector<std::uint64_t> seed(rows.size());
    if (!seed.empty()) seeds.read(seed.data(), H5::PredType::NATIVE_UINT64);
    for (std::size_t i = 0; i < rows.size(); ++i) rows[i].seed = seed[i];
}

RankingContents read_table(const fs::path& path) {
    RankingContents contents;
    const H5::H5File file(path.string(), H5F_ACC_RDONLY);
    if (!file.attrExists("format") || text_attribute(file, "format") != kFormat)
        throw Mismatch("it is an HDF5 file, but no table that gather wrote");
    if (number_attribute(file, "format_version") > kVersion)
        throw Mismatch("it was written by a newer program");
    contents.plans = lines_of(text_attribute(file, "plans"));
    read_columns(file, contents.rows);
    read_numbers_into(file, contents.rows);
    return contents;
}

}  // namespace

void write_ranking(const fs::path& path, const Ranking& ranking) {
    const fs::path part = part_path(path);
    acquire(part);
    constexpr std::size_t kFirstBytes = std::size_t{1} << 16U;
    preallocate(part, kFirstBytes);
    with_hdf5("write", path, [&] {
        H5::H5File file = create_file(part.string());
        try {
            write_tables(file, ranking);
            file.flush(H5F_SCOPE_GLOBAL);
        } catch (...) {
            divert_to_memory(file);
            file.close();
            std::error_code ignored;
            fs::remove(part, ignored);
            throw;
        }
    });
    commit_file(part, path);
}

std::string ranking_csv(const Ranking& ranking) {
    const auto settings = setting_names(ranking.rows);
    std::string csv = "rank,outcome,layout";
    for (const std::string& name : settings) csv += ',' + csv_quoted(name);
    for (const NumberColumn& column : number_columns()) csv += fmt::format(",{}", column.name);
    csv += ",worst_of,flags,message,seed,key\n";
    std::size_t rank = 0;
    for (const RankedRow& ranked : ranking.rows) {
        const BatchRow& row = ranked.row;
        csv += fmt::format("{},{},{}", ++rank, to_string(row.outcome), csv_quoted(row.layout));
        for (const std::string& name : settings) csv += ',' + csv_quoted(setting_of(row, name));
        for (const NumberColumn& column : number_columns()) {
            const double cell = cell_of(column, ranked);
            csv += std::isnan(cell) ? std::string(",") : fmt::format(",{:.9g}", cell);
        }
        csv += fmt::format(",{},{},{},{},{}\n", csv_quoted(row.worst_of), csv_quoted(row.flags),
                           csv_quoted(row.message), row.seed, row.key);
    }
    return csv;
}

RankingContents read_ranking(const fs::path& path) {
    RankingContents contents;
    try {
        if (!fs::is_regular_file(path) || !H5::H5File::isHdf5(path.string()))
            throw Mismatch("it is neither a batch's folder nor a table that gather wrote");
        with_hdf5("read", path, [&] {
            screen_hdf5(path);
            read_apart_first([&] { read_table(path); });
            contents = read_table(path);
        });
    } catch (const Mismatch& mismatch) {
        throw std::runtime_error(
            fmt::format("cannot read '{}': {}", escape_control(path.string()), mismatch.what()));
    }
    return contents;
}

}  // namespace bedshade
