#include "sim/input/traits/traits_reader.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "sim/base/text.h"
#include "sim/input/text/csv.h"
#include "sim/input/traits/builtin_traits.h"
#include "sim/input/traits/trait_checks.h"
#include "sim/input/traits/trait_columns.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostBytes = 4'000'000;
constexpr std::size_t kMostRows = 5000;
constexpr std::size_t kMostProblems = 100;

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

/// Diagnostics of one file, of which only the first hundred are kept.
class Diagnostics {
  public:
    Diagnostics(std::string_view text, const std::string& file) : text_(text), file_(file) {}

    void add(int line, int column, std::string what, std::string help = {}) {
        if (list_.size() < kMostProblems)
            list_.push_back({Diagnostic::Level::error, file_, line, column,
                             line > 0 ? std::string(line_of(text_, line)) : std::string(),
                             std::move(what), std::move(help)});
        else
            ++left_out_;
    }
    void add(const CsvCell& cell, std::string what, std::string help = {}) {
        add(cell.line, cell.column, std::move(what), std::move(help));
    }

    std::vector<Diagnostic>& list() { return list_; }

    void throw_if_any() {
        if (list_.empty()) return;
        if (left_out_ > 0)
            list_.push_back({Diagnostic::Level::error,
                             file_,
                             0,
                             0,
                             {},
                             fmt::format("{} more problems are not shown", left_out_),
                             {}});
        throw InputError(std::move(list_));
    }

  private:
    std::string_view text_;
    std::string file_;
    std::vector<Diagnostic> list_;
    std::size_t left_out_ = 0;
};

/// The column of each cell of a row.
struct Header {
    int line = 0;
    std::vector<const TraitColumn*> of_cell;  ///< null: unknown
    std::vector<std::string> missing;
};

const TraitColumn* column_named(std::string_view name) {
    for (const auto& column : trait_columns())
        if (column.name == name) return &column;
    return nullptr;
}

/// Reads one file's rows over a copy of the table. A row that starts with "id" is a header,
/// wherever it stands: the texts of several tables, one after the other, are a table too.
class Reader {
  public:
    Reader(std::vector<Taxon> taxa, std::string_view csv, const std::string& file)
        : taxa_(std::move(taxa)),
          diagnostics_(csv, file),
          rows_(split_csv(csv, file, diagnostics_.list())) {
        for (std::size_t i = 0; i < taxa_.size(); ++i) index_[taxa_[i].id] = i;
    }

    std::vector<Taxon> read() {
        if (rows_.empty())
            diagnostics_.add(0, 0, "has no rows", "the first row names the columns, id first");
        if (rows_.size() > kMostRows) {
            diagnostics_.add(rows_[kMostRows].line, 0, fmt::format("has {} rows", rows_.size()),
                             fmt::format("at most {}", kMostRows));
            diagnostics_.throw_if_any();
        }
        for (const CsvRow& row : rows_) read_row(row);
        check_names();
        diagnostics_.throw_if_any();
        return std::move(taxa_);
    }

  private:
    void read_row(const CsvRow& row) {
        if (row.cells[0].text == "id" || !header_)
            read_header(row);
        else if (row.cells.size() != header_->of_cell.size())
            diagnostics_.add(row.line, 0,
                             fmt::format("the row has {} cells, the header in line {} has {}",
                                         row.cells.size(), header_->line, header_->of_cell.size()),
                             "put a cell with a comma in double quotes");
        else
            read_taxon(row);
    }

    void read_header(const CsvRow& row) {
        header_ = Header{row.line, {}, {}};
        seen_.clear();
        if (row.cells[0].text != "id") report_first_cell(row.cells[0]);
        std::set<std::string> present;
        for (const CsvCell& cell : row.cells) {
            header_->of_cell.push_back(column_named(cell.text));
            if (!header_->of_cell.back()) report_column(cell);
            if (!present.insert(cell.text).second)
                diagnostics_.add(
                    cell, fmt::format("column \"{}\" appears twice", escape_control(cell.text)));
        }
        for (const auto& column : trait_columns())
            if (!present.contains(column.name)) header_->missing.push_back(column.name);
    }

    void report_first_cell(const CsvCell& cell) {
        const bool other_separator = cell.text.find_first_of(";\t") != std::string::npos;
        diagnostics_.add(cell,
                         fmt::format("the first column is \"{}\", not id",
                                     escape_control(cell.text.substr(0, 40))),
                         other_separator ? "save the table with commas between its cells"
                                         : "the first row names the columns, id first");
    }

    void report_column(const CsvCell& cell) {
        const std::string nearest = nearest_name(cell.text, trait_column_names());
        diagnostics_.add(
            cell, fmt::format("unknown column \"{}\"", escape_control(cell.text.substr(0, 60))),
            nearest.empty() ? "the columns are those of the built-in table"
                            : fmt::format("did you mean {}?", nearest));
    }

    /// The taxon in the table, or null.
    Taxon* known(const std::string& id) {
        const auto found = index_.find(id);
        return found == index_.end() ? nullptr : &taxa_[found->second];
    }

    void read_taxon(const CsvRow& row) {
        const CsvCell& id = row.cells[0];
        if (!seen_.insert(id.text).second)
            return diagnostics_.add(
                id, fmt::format("id \"{}\" is in an earlier row too", escape_control(id.text)),
                "one row for each id");
        const Taxon* old = known(id.text);
        if (!old && !header_->missing.empty()) return report_missing(id);
        Taxon taxon = old ? *old : Taxon{};
        if (!read_cells(row, taxon)) return;
        check_trait_row(taxon, [&](const std::string& column, const std::string& what,
                                   const std::string& help) {
            diagnostics_.add(cell_of(row, column), column + " " + what, help);
        });
        put(std::move(taxon), id);
    }

    void report_missing(const CsvCell& id) {
        constexpr std::size_t kShown = 6;
        const auto& missing = header_->missing;
        const auto shown = std::min(missing.size(), kShown);
        std::string what = fmt::format(
            "id \"{}\" is new to the table, and the header in line {} lacks {}",
            escape_control(id.text), header_->line,
            fmt::join(missing.begin(), missing.begin() + static_cast<std::ptrdiff_t>(shown), ", "));
        if (missing.size() > shown) what += fmt::format(" and {} more", missing.size() - shown);
        const std::string nearest = nearest_name(id.text, ids());
        std::string help = "a new taxon needs every column; a known one keeps the values left out";
        if (!nearest.empty()) help = fmt::format("did you mean {}? {}", nearest, help);
        diagnostics_.add(id, std::move(what), std::move(help));
    }

    std::vector<std::string> ids() const {
        std::vector<std::string> ids;
        for (const Taxon& taxon : taxa_) ids.push_back(taxon.id);
        return ids;
    }

    bool read_cells(const CsvRow& row, Taxon& taxon) {
        bool good = true;
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            if (!header_->of_cell[i]) continue;
            std::string help;
            const auto what = read_trait(*header_->of_cell[i], row.cells[i].text, taxon, help);
            if (what.empty()) continue;
            diagnostics_.add(row.cells[i], header_->of_cell[i]->name + " " + what, help);
            good = false;
        }
        return good;
    }

    const CsvCell& cell_of(const CsvRow& row, const std::string& column) const {
        for (std::size_t i = 0; i < row.cells.size(); ++i)
            if (header_->of_cell[i] && header_->of_cell[i]->name == column) return row.cells[i];
        return row.cells[0];
    }

    void put(Taxon taxon, const CsvCell& id) {
        places_[taxon.id] = id;
        if (Taxon* old = known(taxon.id)) {
            *old = std::move(taxon);
            return;
        }
        index_[taxon.id] = taxa_.size();
        taxa_.push_back(std::move(taxon));
    }

    /// No two taxa may share an id or alias. Ids go first, so that the alias is reported.
    void check_names() {
        std::map<std::string, std::string> owners;  // name in small letters -> id
        for (const Taxon& taxon : taxa_) owners.emplace(lower(taxon.id), taxon.id);
        for (const Taxon& taxon : taxa_)
            for (const auto& alias : taxon.aliases) {
                const auto [owner, is_new] = owners.emplace(lower(alias), taxon.id);
                if (!is_new && owner->second != taxon.id)
                    report_alias(alias, taxon.id, owner->second);
            }
    }

    void report_alias(const std::string& alias, const std::string& id, const std::string& other) {
        const auto place = places_.contains(id) ? places_.find(id) : places_.find(other);
        const CsvCell cell = place == places_.end() ? CsvCell{} : place->second;
        diagnostics_.add(cell,
                         fmt::format("\"{}\" would name both {} and {}", escape_control(alias),
                                     escape_control(other), escape_control(id)),
                         "an id or alias belongs to one taxon");
    }

    std::vector<Taxon> taxa_;
    Diagnostics diagnostics_;
    std::vector<CsvRow> rows_;
    std::optional<Header> header_;
    std::set<std::string> seen_;                ///< ids since the last header
    std::map<std::string, std::size_t> index_;  ///< into taxa_
    std::map<std::string, CsvCell> places_;     ///< of the ids read from this file
};

}  // namespace

void TraitTable::overlay(std::string_view csv, const std::string& file) {
    if (csv.size() > kMostBytes) {
        Diagnostics diagnostics({}, file);
        diagnostics.add(0, 0, fmt::format("the trait table is {} bytes long", csv.size()),
                        fmt::format("at most {}", kMostBytes));
        diagnostics.throw_if_any();
    }
    taxa_ = Reader(taxa_, csv, file).read();
    if (csv.substr(0, kByteOrderMark.size()) == kByteOrderMark)
        csv.remove_prefix(kByteOrderMark.size());
    text_ += csv;
    if (!text_.empty() && text_.back() != '\n') text_ += '\n';
}

const Taxon* TraitTable::find(std::string_view id_or_alias) const {
    const std::string wanted = lower(id_or_alias);
    const auto is_wanted = [&](const std::string& name) { return lower(name) == wanted; };
    const auto found = std::find_if(taxa_.begin(), taxa_.end(), [&](const Taxon& taxon) {
        return is_wanted(taxon.id) || is_wanted(taxon.scientific_name) ||
               std::any_of(taxon.aliases.begin(), taxon.aliases.end(), is_wanted);
    });
    return found == taxa_.end() ? nullptr : &*found;
}

std::vector<std::string> TraitTable::names() const {
    std::vector<std::string> names;
    for (const Taxon& taxon : taxa_) {
        names.push_back(taxon.id);
        names.insert(names.end(), taxon.aliases.begin(), taxon.aliases.end());
    }
    return names;
}

TraitTable builtin_traits() {
    TraitTable table;
    table.overlay(builtin_traits_csv(), "built-in trait table");
    return table;
}

}  // namespace bedshade
