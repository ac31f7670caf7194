#include "sim/input/text/csv.h"

#include <algorithm>
#include <utility>

namespace bedshade {
namespace {

/// Beyond this many problems a file is no table, and each costs a walk through the text.
constexpr std::size_t kMostProblems = 100;

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

bool is_blank(char c) { return c == ' ' || c == '\t'; }

bool ends_row(char c) { return c == '\n' || c == '\r'; }

/// Walks over the text and keeps count of lines and columns.
class Cursor {
  public:
    explicit Cursor(std::string_view text) : text_(text) {
        if (text_.substr(0, kByteOrderMark.size()) == kByteOrderMark)
            at_ = line_start_ = kByteOrderMark.size();
    }

    bool done() const { return at_ >= text_.size(); }
    char peek() const { return text_[at_]; }
    int line() const { return line_; }
    int column() const { return static_cast<int>(at_ - line_start_) + 1; }
    bool at(char c) const { return !done() && peek() == c; }
    bool at_row_end() const { return done() || ends_row(peek()); }

    /// Takes one character; CRLF counts as one line break and comes out as LF.
    char take() {
        const char c = text_[at_++];
        if (!ends_row(c)) return c;
        if (c == '\r' && at('\n')) ++at_;
        ++line_;
        line_start_ = at_;
        return '\n';
    }

    void skip_blanks() {
        while (!done() && is_blank(peek())) take();
    }

  private:
    std::string_view text_;
    std::size_t at_ = 0, line_start_ = 0;
    int line_ = 1;
};

class Splitter {
  public:
    Splitter(std::string_view text, const std::string& file, std::vector<Diagnostic>& diagnostics)
        : text_(text), cursor_(text), file_(file), diagnostics_(diagnostics) {}

    std::vector<CsvRow> rows() {
        std::vector<CsvRow> rows;
        while (!cursor_.done()) {
            CsvRow row = take_row();
            const bool empty = row.cells.size() == 1 && row.cells[0].text.empty();
            if (!empty) rows.push_back(std::move(row));
        }
        return rows;
    }

  private:
    CsvRow take_row() {
        CsvRow row{cursor_.line(), {}};
        row.cells.push_back(take_cell());
        while (cursor_.at(',')) {
            cursor_.take();
            row.cells.push_back(take_cell());
        }
        if (!cursor_.done()) cursor_.take();
        return row;
    }

    CsvCell take_cell() {
        cursor_.skip_blanks();
        CsvCell cell{{}, cursor_.line(), cursor_.column()};
        if (cursor_.at('"'))
            take_quoted(cell);
        else
            take_plain(cell);
        return cell;
    }

    void take_plain(CsvCell& cell) {
        while (!cursor_.at_row_end() && !cursor_.at(',')) cell.text += cursor_.take();
        while (!cell.text.empty() && is_blank(cell.text.back())) cell.text.pop_back();
    }

    void take_quoted(CsvCell& cell) {
        cursor_.take();
        while (!cursor_.done()) {
            const char c = cursor_.take();
            if (c == '"' && !cursor_.at('"')) return finish_quoted(cell);
            if (c == '"') cursor_.take();
            cell.text += c;
        }
        report(cell.line, cell.column, "this quote is never closed",
               "a cell that starts with \" ends with \"; a quote inside it is doubled");
    }

    void finish_quoted(CsvCell& cell) {
        cursor_.skip_blanks();
        if (cursor_.at_row_end() || cursor_.at(',')) return;
        report(cursor_.line(), cursor_.column(), "text follows the closing quote of a cell",
               "after a quoted cell comes a comma or the end of the row; a quote inside it is "
               "doubled");
        take_plain(cell);
    }

    void report(int line, int column, std::string what, std::string help) {
        if (++reported_ > kMostProblems) return;
        diagnostics_.push_back({Diagnostic::Level::error, file_, line, column,
                                std::string(line_of(text_, line)), std::move(what),
                                std::move(help)});
    }

    std::string_view text_;
    Cursor cursor_;
    const std::string& file_;
    std::vector<Diagnostic>& diagnostics_;
    std::size_t reported_ = 0;
};

}  // namespace

std::vector<CsvRow> split_csv(std::string_view text, const std::string& file,
                              std::vector<Diagnostic>& diagnostics) {
    return Splitter(text, file, diagnostics).rows();
}

std::string_view line_of(std::string_view text, int line) {
    std::size_t start =
        text.substr(0, kByteOrderMark.size()) == kByteOrderMark ? kByteOrderMark.size() : 0;
    for (int n = 1; n < line; ++n) {
        const std::size_t end = text.find_first_of("\r\n", start);
        if (end == std::string_view::npos) return {};
        start = end + (text.substr(end, 2) == "\r\n" ? 2 : 1);
    }
    return text.substr(start, std::min(text.find_first_of("\r\n", start), text.size()) - start);
}

}  // namespace bedshade
