// Every dataset of a trajectory says what it is: units that UDUNITS reads, a long name, named
// dimensions with scales, compressed chunks, and no time of day.
#include <H5Cpp.h>
#include <H5DSpublic.h>
#include <catch2/catch.hpp>
#include <set>
#include <udunits2.h>

#include "sim/trajectory/trajectory_writer.h"

#include "tests/sim/trajectory/synthetic_run.h"

using namespace bedshade;

namespace {

std::string write_run(const synthetic::Folder& folder) {
    const FlowSample flow = synthetic::flow();
    TrajectoryWriter writer(folder / "run.h5", synthetic::layout(3), synthetic::bed(),
                            synthetic::facts(2), &flow);
    for (int i = 0; i < 20; ++i) writer.take(synthetic::snapshot(0, i, 3));
    writer.add(Flag());
    writer.add(EventRecord{0.0, 0, "trim", 0, "trimmed"});
    writer.finish();
    return folder / "run.h5";
}

herr_t collect(hid_t, const char* name, const H5O_info_t* info, void* names) {
    if (info->type == H5O_TYPE_DATASET) static_cast<std::set<std::string>*>(names)->insert(name);
    return 0;
}

std::set<std::string> datasets_of(const H5::H5File& file) {
    std::set<std::string> names;
    H5Ovisit(file.getId(), H5_INDEX_NAME, H5_ITER_NATIVE, collect, &names);
    return names;
}

std::string text_of(const H5::H5Object& object, const std::string& attribute) {
    if (!object.attrExists(attribute)) return "";
    std::string text;
    const H5::Attribute found = object.openAttribute(attribute);
    found.read(found.getStrType(), text);
    return text;
}

bool udunits_reads(const std::string& units) {
    ut_set_error_message_handler(ut_ignore);
    ut_system* system = ut_read_xml(nullptr);
    ut_unit* unit = ut_parse(system, units.c_str(), UT_UTF8);
    const bool known = unit != nullptr;
    ut_free(unit);
    ut_free_system(system);
    return known;
}

std::string label_of(const H5::DataSet& dataset, unsigned dimension) {
    char label[64] = {};
    H5DSget_label(dataset.getId(), dimension, label, sizeof(label));
    return label;
}

void check_dimensions(const H5::DataSet& dataset) {
    const bool is_scale = H5DSis_scale(dataset.getId()) > 0;
    const int dimensions = dataset.getSpace().getSimpleExtentNdims();
    for (unsigned i = 0; i < static_cast<unsigned>(dimensions); ++i) {
        CHECK(label_of(dataset, i) != "");
        // A scale is its own, and HDF5 attaches none to it.
        if (!is_scale) CHECK(H5DSget_num_scales(dataset.getId(), i) == 1);
    }
}

void check_storage(const H5::DataSet& dataset) {
    const H5::DSetCreatPropList list = dataset.getCreatePlist();
    CHECK(list.getLayout() == H5D_CHUNKED);
    REQUIRE(list.getNfilters() == 2);
    unsigned flags = 0, config = 0, values[8] = {};
    std::size_t count = 8;
    char name[64] = {};
    CHECK(list.getFilter(0, flags, count, values, sizeof(name), name, config) ==
          H5Z_FILTER_SHUFFLE);
    count = 8;
    CHECK(list.getFilter(1, flags, count, values, sizeof(name), name, config) ==
          H5Z_FILTER_DEFLATE);
    H5O_info_t info;
    H5Oget_info(dataset.getId(), &info);
    CHECK(info.mtime == 0);
}

}  // namespace

TEST_CASE("the file has the datasets of the contract") {
    const synthetic::Folder folder;
    const H5::H5File file(write_run(folder), H5F_ACC_RDONLY);
    const std::set<std::string> expected = {"time",
                                            "member",
                                            "axis",
                                            "sector",
                                            "rank",
                                            "written",
                                            "events",
                                            "flags",
                                            "colony/name",
                                            "colony/taxon",
                                            "colony/form",
                                            "colony/on",
                                            "colony/facing_azimuth",
                                            "colony/facing_tilt",
                                            "colony/present",
                                            "colony/stage",
                                            "colony/diameter",
                                            "colony/height",
                                            "colony/live_fraction",
                                            "colony/ppfd_mean",
                                            "colony/dli",
                                            "colony/need_dli",
                                            "colony/net_carbon",
                                            "colony/reserve",
                                            "colony/sand_load",
                                            "colony/flow_speed",
                                            "colony/position",
                                            "colony/outline",
                                            "colony/shade_by",
                                            "colony/shade_by_other",
                                            "bed/x",
                                            "bed/y",
                                            "bed/ppfd",
                                            "bed/shear_stress",
                                            "bed/fallout",
                                            "flow/state",
                                            "flow/x",
                                            "flow/y",
                                            "flow/z",
                                            "flow/velocity",
                                            "flow/turbulent_speed"};
    CHECK(datasets_of(file) == expected);
}

TEST_CASE("every dataset has units and a long name") {
    const synthetic::Folder folder;
    const H5::H5File file(write_run(folder), H5F_ACC_RDONLY);
    for (const auto& name : datasets_of(file)) {
        CAPTURE(name);
        const H5::DataSet dataset = file.openDataSet(name);
        CHECK(udunits_reads(text_of(dataset, "units")));
        CHECK(text_of(dataset, "units") != "");
        CHECK(text_of(dataset, "long_name") != "");
        check_dimensions(dataset);
        check_storage(dataset);
    }
}

TEST_CASE("dimensions are in the order of the contract") {
    const synthetic::Folder folder;
    const H5::H5File file(write_run(folder), H5F_ACC_RDONLY);
    const auto labels = [&](const char* name) {
        const H5::DataSet dataset = file.openDataSet(name);
        std::string all;
        for (int i = 0; i < dataset.getSpace().getSimpleExtentNdims(); ++i)
            all += label_of(dataset, static_cast<unsigned>(i)) + " ";
        return all;
    };
    CHECK(labels("/colony/dli") == "member time colony ");
    CHECK(labels("/colony/position") == "member time colony axis ");
    CHECK(labels("/colony/outline") == "member time colony sector ");
    CHECK(labels("/colony/shade_by") == "member time colony rank ");
    CHECK(labels("/bed/ppfd") == "member time y x ");
    CHECK(labels("/flow/velocity") == "state z y x axis ");
    CHECK(labels("/flow/turbulent_speed") == "state z y x ");
    CHECK(text_of(file.openDataSet("/time"), "units") == "days since 2027-01-01");
    CHECK(text_of(file.openDataSet("/time"), "calendar") == "proleptic_gregorian");
}

TEST_CASE("the root attributes give format and provenance") {
    const synthetic::Folder folder;
    const H5::H5File file(write_run(folder), H5F_ACC_RDONLY);
    CHECK(text_of(file, "format") == "bedshade trajectory");
    CHECK(text_of(file, "calendar_start") == "2027-01-01");
    CHECK(text_of(file, "layout_text") == synthetic::facts().layout_text);
    // sha256sum (coreutils) of the two texts.
    CHECK(text_of(file, "layout_sha256") ==
          "05911502539d3609c544ee68749459d33050faa45acc4371742bd1bcde5cb45b");
    CHECK(text_of(file, "traits_sha256") ==
          "7831343b85c6fda992320bfd349160a16136586e8b752f7b4d0d3a534a0055de");
    for (const char* name : {"format_version", "complete"}) {
        std::uint64_t number = 0;
        file.openAttribute(name).read(H5::PredType::NATIVE_UINT64, &number);
        CHECK(number == 1);
    }
}

TEST_CASE("the file-format page names everything in the file") {
    const synthetic::Folder folder;
    const H5::H5File file(write_run(folder), H5F_ACC_RDONLY);
    const std::string page =
        synthetic::bytes_of(BEDSHADE_SOURCE_DIR "/notebooks-free-docs/file-format.md");
    const auto named = [&](const std::string& name) {
        return page.find("`" + name + "`") != std::string::npos;
    };
    for (const auto& name : datasets_of(file)) {
        CAPTURE(name);
        // Tables head the list of their fields.
        CHECK((named("/" + name) || page.find("`/" + name + "` field") != std::string::npos));
        const H5::DataSet dataset = file.openDataSet(name);
        if (name != "time") CHECK(page.find(text_of(dataset, "units")) != std::string::npos);
        if (dataset.getTypeClass() != H5T_COMPOUND) continue;
        const H5::CompType fields = dataset.getCompType();
        for (int i = 0; i < fields.getNmembers(); ++i)
            CHECK(named(fields.getMemberName(static_cast<unsigned>(i))));
    }
    for (int i = 0; i < file.getNumAttrs(); ++i)
        CHECK(named(file.openAttribute(static_cast<unsigned>(i)).getName()));
}
