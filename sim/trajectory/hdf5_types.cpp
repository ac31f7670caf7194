#include "sim/trajectory/hdf5_types.h"

#include "model/reef/reef.h"

#include "sim/base/flag.h"

namespace bedshade {

namespace {

H5::EnumType numbers() { return H5::EnumType(H5::PredType::STD_U8LE); }

void add(H5::EnumType& type, const char* name, std::uint8_t value) { type.insert(name, &value); }

/// An enumeration of things that have a name by to_string().
template <typename Kinds>
H5::EnumType kind_type(const Kinds& kinds) {
    H5::EnumType type = numbers();
    for (const auto kind : kinds) add(type, to_string(kind), static_cast<std::uint8_t>(kind));
    return type;
}

}  // namespace

H5::CompType shade_type() {
    H5::CompType type(sizeof(StoredShade));
    type.insertMember("colony", HOFFSET(StoredShade, colony), H5::PredType::STD_I32LE);
    type.insertMember("share", HOFFSET(StoredShade, share), H5::PredType::IEEE_F32LE);
    return type;
}

H5::EnumType stage_type() { return kind_type(kStages); }

H5::CompType flag_type() {
    H5::CompType type(sizeof(StoredFlag));
    type.insertMember("flag", HOFFSET(StoredFlag, flag), kind_type(kFlagKinds));
    type.insertMember("member", HOFFSET(StoredFlag, member), H5::PredType::STD_I32LE);
    type.insertMember("month", HOFFSET(StoredFlag, month), H5::PredType::STD_I32LE);
    type.insertMember("day", HOFFSET(StoredFlag, day_d), H5::PredType::IEEE_F64LE);
    type.insertMember("date", HOFFSET(StoredFlag, date), padded_text(sizeof(StoredFlag::date)));
    type.insertMember("colony", HOFFSET(StoredFlag, colony), H5::PredType::STD_I32LE);
    type.insertMember("culprit_kind", HOFFSET(StoredFlag, culprit_kind), kind_type(kCulpritKinds));
    type.insertMember("culprit", HOFFSET(StoredFlag, culprit), H5::PredType::STD_I32LE);
    type.insertMember("share", HOFFSET(StoredFlag, share), H5::PredType::IEEE_F64LE);
    type.insertMember("detail", HOFFSET(StoredFlag, detail), endless_text());
    return type;
}

H5::CompType event_type() {
    H5::CompType type(sizeof(StoredEvent));
    type.insertMember("day", HOFFSET(StoredEvent, day_d), H5::PredType::IEEE_F64LE);
    type.insertMember("date", HOFFSET(StoredEvent, date), padded_text(sizeof(StoredEvent::date)));
    type.insertMember("member", HOFFSET(StoredEvent, member), H5::PredType::STD_I32LE);
    type.insertMember("kind", HOFFSET(StoredEvent, kind), endless_text());
    type.insertMember("colony", HOFFSET(StoredEvent, colony), H5::PredType::STD_I32LE);
    type.insertMember("text", HOFFSET(StoredEvent, text), endless_text());
    return type;
}

H5::CompType packed(const H5::CompType& type) {
    H5::CompType copy;
    copy.copy(type);
    copy.pack();
    return copy;
}

H5::StrType padded_text(std::size_t size) {
    H5::StrType type(H5::PredType::C_S1, size);
    type.setCset(H5T_CSET_UTF8);
    type.setStrpad(H5T_STR_NULLPAD);
    return type;
}

H5::StrType endless_text() {
    H5::StrType type(H5::PredType::C_S1, H5T_VARIABLE);
    type.setCset(H5T_CSET_UTF8);
    return type;
}

}  // namespace bedshade
