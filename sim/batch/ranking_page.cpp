#include "sim/batch/ranking_page.h"

#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/plain_text.h"
#include "sim/batch/ranking_columns.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

/// A setting that is one number, perhaps with a unit behind it, sorts and plots as one.
constexpr const char* kScript = R"js(
const data = JSON.parse(document.getElementById("ranking").textContent);
const make = (name, parent, text) => {
  const node = parent.appendChild(document.createElement(name));
  if (text !== undefined) node.textContent = text;
  return node;
};
const numberOf = cell => typeof cell === "number" ? cell : /^[-+]?[0-9.]+(e[-+]?[0-9]+)?( [^0-9].*)?$/.test(cell) ? parseFloat(cell) : NaN;
const shown = cell => cell === null ? "" : typeof cell === "number" ? String(Math.round(cell * 1000) / 1000) : cell;
const body = document.querySelector("tbody");
const keys = data.columns.indexOf("key");
let sorted = -1, up = true;
function fill() {
  body.replaceChildren();
  for (const row of data.rows) {
    const line = make("tr", body);
    row.forEach((cell, column) => {
      const address = column === 0 ? data.links[row[keys]] : undefined;
      if (address === undefined) make("td", line, shown(cell));
      else make("a", make("td", line), shown(cell) + " (open)").href = address;
    });
  }
}
function sortBy(column) {
  up = column === sorted ? !up : true;
  sorted = column;
  const before = (a, b) => {
    const x = numberOf(a[column]), y = numberOf(b[column]);
    if (!isNaN(x) && !isNaN(y)) return x - y;
    if (isNaN(x) !== isNaN(y)) return isNaN(x) ? 1 : -1;
    return String(a[column]).localeCompare(String(b[column]));
  };
  data.rows.sort((a, b) => up ? before(a, b) : before(b, a));
  fill();
}
function plot() {
  const [x, y] = ["x", "y"].map(id => Number(document.getElementById(id).value));
  const svg = document.querySelector("svg");
  svg.replaceChildren();
  const words = [...new Set(data.rows.map(row => row[x]).filter(cell => isNaN(numberOf(cell))))].sort();
  const at = cell => isNaN(numberOf(cell)) ? words.indexOf(cell) : numberOf(cell);
  const points = data.rows.map(row => [at(row[x]), numberOf(row[y]), row]).filter(p => p[2][y] !== null && !isNaN(p[1]));
  if (points.length === 0) return;
  const range = k => [Math.min(...points.map(p => p[k])), Math.max(...points.map(p => p[k]))];
  const [x0, x1] = range(0), [y0, y1] = range(1);
  const place = (value, low, high, from, to) => from + (to - from) * (high > low ? (value - low) / (high - low) : 0.5);
  const draw = (name, attributes, text) => {
    const node = svg.appendChild(document.createElementNS("http://www.w3.org/2000/svg", name));
    for (const key in attributes) node.setAttribute(key, attributes[key]);
    if (text !== undefined) node.textContent = text;
    return node;
  };
  draw("rect", {x: 60, y: 10, width: 620, height: 220, fill: "none", stroke: "#999"});
  draw("text", {x: 60, y: 250}, words.length > 0 ? words.join(" | ") : shown(x0));
  if (words.length === 0) draw("text", {x: 680, y: 250, "text-anchor": "end"}, shown(x1));
  draw("text", {x: 55, y: 230, "text-anchor": "end"}, shown(y0));
  draw("text", {x: 55, y: 20, "text-anchor": "end"}, shown(y1));
  for (const [px, py, row] of points) {
    const title = draw("title", {}, row.slice(0, -1).map(shown).join(", "));
    draw("circle", {cx: place(px, x0, x1, 75, 665), cy: place(py, y0, y1, 220, 20), r: 4}).appendChild(title);
  }
}
const head = make("tr", document.querySelector("thead"));
data.columns.forEach((name, column) => {
  const cell = make("th", head);
  const button = make("button", cell, name);
  button.title = data.meanings[column];
  button.onclick = () => sortBy(column);
  for (const id of ["x", "y"]) {
    const option = make("option", document.getElementById(id), name);
    option.value = column;
  }
});
document.getElementById("x").value = data.columns.length > 3 ? 3 : 0;
document.getElementById("y").value = data.columns.indexOf("score");
for (const id of ["x", "y"]) document.getElementById(id).onchange = plot;
const asked = data.columns.indexOf(decodeURIComponent(location.hash.slice(1)));
if (asked >= 0) sortBy(asked); else fill();
plot();
)js";

constexpr const char* kStyle =
    "body{font:14px sans-serif;margin:1.5em}table{border-collapse:collapse}td,th{border:1px solid "
    "#ccc;padding:2px 6px;text-align:left;white-space:nowrap}th "
    "button{font:inherit;font-weight:bold;border:0;background:none;cursor:pointer}circle{fill-"
    "opacity:.5}";

/// One cell: a number, a text, or null for what was not found.
ordered_json number_cell(const NumberColumn& column, const RankedRow& ranked) {
    if (column.found && ranked.row.outcome != RunOutcome::done) return nullptr;
    return column.get(ranked);
}

ordered_json rows_json(const Ranking& ranking, const std::vector<std::string>& settings) {
    auto rows = ordered_json::array();
    std::size_t rank = 0;
    for (const RankedRow& ranked : ranking.rows) {
        auto row = ordered_json::array({++rank, to_string(ranked.row.outcome), ranked.row.layout});
        for (const std::string& name : settings) row.push_back(setting_of(ranked.row, name));
        for (const NumberColumn& column : number_columns())
            row.push_back(number_cell(column, ranked));
        for (const TextColumn& column : text_columns())
            if (column.text != &BatchRow::layout) row.push_back(ranked.row.*column.text);
        rows.push_back(std::move(row));
    }
    return rows;
}

ordered_json document_of(const Ranking& ranking, const RunLinks& links) {
    const auto settings = setting_names(ranking.rows);
    ordered_json columns = {"rank", "outcome", "layout"};
    ordered_json meanings = {"place in the ranking", "done, refused or failed",
                             "the layout it started from"};
    for (const std::string& name : settings) {
        columns.push_back(name);
        meanings.push_back("what was varied");
    }
    for (const NumberColumn& column : number_columns()) {
        columns.push_back(column.name);
        meanings.push_back(column.long_name);
    }
    for (const TextColumn& column : text_columns()) {
        if (column.text == &BatchRow::layout) continue;
        columns.push_back(column.name);
        meanings.push_back(column.long_name);
    }
    return {{"columns", columns},
            {"meanings", meanings},
            {"links", ordered_json(links)},
            {"rows", rows_json(ranking, settings)}};
}

std::string weights_words(const ScoreWeights& weights) {
    std::string words;
    for (const auto& [name, value] : named_weights(weights))
        if (value != 0.0) words += fmt::format("{}{} {:g}", words.empty() ? "" : ", ", name, value);
    return words;
}

}  // namespace

std::string ranking_page(const Ranking& ranking, const RunLinks& links) {
    const std::string json = json_in_page(json_line(document_of(ranking, links)));
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>Ranking of "
        "layouts</title><style>{}</style></head>\n<body><h1>{} runs</h1><p>Weights of the score: "
        "{}. Click a heading to sort by its column, and again to reverse the order. Where a run's "
        "trajectory was kept (bedshade batch --keep), its rank opens its page.</p>{}\n"
        "<p><label>x axis <select id=\"x\"></select></label> <label>y axis <select "
        "id=\"y\"></select></label></p><svg width=\"700\" height=\"260\" "
        "font-size=\"12\"></svg><table><thead></thead><tbody></tbody></table>\n"
        "<script type=\"application/json\" "
        "id=\"ranking\">{}</script>\n<script>{}</script></body></html>\n",
        kStyle, ranking.rows.size(), weights_words(ranking.weights),
        ranking.gaps.empty() ? "" : "<p>Some shards were not finished.</p>", json, kScript);
}

}  // namespace bedshade
