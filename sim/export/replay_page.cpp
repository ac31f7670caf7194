#include "sim/export/replay_page.h"

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/export/replay_parts.h"
#include "sim/export/svg.h"
#include "sim/report/report.h"
#include "sim/trajectory/run_layout.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

/// Version of the document; the page refuses any other.
constexpr int kReplayFormat = 1;

std::string title_of(const Trajectory& run) {
    return run.title().empty() ? "A reef layout" : escape_control(run.title());
}

ordered_json facts_json(const Trajectory& run, const Layout& layout, const std::string& label) {
    const RunProvenance& facts = run.facts();
    return {{"format", kReplayFormat},
            {"label", escape_control(label)},
            {"title", title_of(run)},
            {"start", to_string(run.start())},
            {"complete", run.complete()},
            {"months", layout.season.months},
            {"members", facts.members},
            {"seed", std::to_string(facts.seed)},
            {"program_version", escape_control(facts.program_version)},
            {"model_version", escape_control(facts.model_version)},
            {"verdict",
             verdict_text(layout, reporting_order(layout, flags_of_member(run.flags(), 0)))}};
}

void put_in(std::string& page, std::string_view mark, const std::string& text) {
    const std::size_t at = page.find(mark);
    if (at == std::string::npos || page.find(mark, at + 1) != std::string::npos)
        throw std::invalid_argument("the page template does not have each marker exactly once");
    page.replace(at, mark.size(), text);
}

std::string script_of(const char* id, const std::string& json) {
    return std::string("<script id=\"") + id + "\" type=\"application/json\">" + json + "</script>";
}

std::string page_with(std::string_view shell, const Trajectory& run, const std::string& scripts) {
    std::string page(shell);
    put_in(page, kTitleMark, xml_text(title_of(run)));
    put_in(page, kRunMark, scripts);
    return page;
}

}  // namespace

std::string replay_json(const Trajectory& run, const std::string& label) {
    if (run.snapshots(0) == 0) throw TrajectoryError("the trajectory has no snapshot to show");
    const Layout layout = layout_of(run);
    ordered_json document = facts_json(run, layout, label);
    document.update(replay_setting(run, layout));
    document["flags"] = replay_flags(run, layout);
    document["events"] = replay_events(run);
    document.update(replay_snapshots(run));
    return json_in_page(json_line(document));
}

std::string replay_page(const Trajectory& run, std::string_view shell) {
    return page_with(shell, run, script_of("run", replay_json(run)));
}

std::string replay_page(const LabelledRun& first, const LabelledRun& beside,
                        std::string_view shell) {
    return page_with(shell, first.run,
                     script_of("run", replay_json(first.run, first.label)) +
                         script_of("run-beside", replay_json(beside.run, beside.label)));
}

}  // namespace bedshade
