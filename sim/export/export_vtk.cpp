#include "sim/export/export_vtk.h"

#include <algorithm>
#include <cstdint>
#include <fmt/format.h>

#include "model/growth/forms.h"

#include "sim/export/packed.h"
#include "sim/trajectory/run_layout.h"

namespace bedshade {
namespace {

/// What VTK calls the type of a number.
const char* type_word(float) { return "Float32"; }
const char* type_word(std::int32_t) { return "Int32"; }

/// A DataArray in base64: the number of bytes, then the bytes.
template <class T>
std::string data_array(const std::string& name, const std::vector<T>& values, int components = 1) {
    const auto count = static_cast<std::uint32_t>(sizeof(T) * values.size());
    std::vector<std::uint8_t> bytes(sizeof count + count);
    std::copy_n(reinterpret_cast<const std::uint8_t*>(&count), sizeof count, bytes.begin());
    std::copy_n(reinterpret_cast<const std::uint8_t*>(values.data()), count,
                bytes.begin() + sizeof count);
    return fmt::format(
        "<DataArray type=\"{}\" Name=\"{}\" NumberOfComponents=\"{}\" format=\"binary\">{}"
        "</DataArray>\n",
        type_word(T{}), name, components, base64(bytes.data(), bytes.size()));
}

std::string vtk_file(const char* type, const std::string& body) {
    return fmt::format(
        "<?xml version=\"1.0\"?>\n<VTKFile type=\"{}\" version=\"1.0\" byte_order=\"LittleEndian\" "
        "header_type=\"UInt32\">\n{}</VTKFile>\n",
        type, body);
}

/// All corals' triangles in one piece, and for each triangle whose it is.
struct Piece {
    std::vector<float> points_m;
    std::vector<std::int32_t> corners, ends, colony;

    void add(const TriangleMesh& mesh, std::size_t whose) {
        const auto first = static_cast<std::int32_t>(points_m.size() / 3);
        for (const auto& v : mesh.vertices_m) points_m.insert(points_m.end(), v.begin(), v.end());
        for (const auto& triangle : mesh.triangles) {
            for (const std::uint32_t corner : triangle)
                corners.push_back(first + static_cast<std::int32_t>(corner));
            ends.push_back(static_cast<std::int32_t>(corners.size()));
            colony.push_back(static_cast<std::int32_t>(whose));
        }
    }

    /// A colony's value on each of its triangles.
    std::vector<float> spread(const std::vector<ColonyRecord>& records,
                              double ColonyRecord::*quantity) const {
        std::vector<float> values;
        for (const std::int32_t whose : colony)
            values.push_back(
                static_cast<float>(records[static_cast<std::size_t>(whose)].*quantity));
        return values;
    }
};

Piece piece_of(const Trajectory& run, const std::vector<ColonyRecord>& records) {
    Piece piece;
    for (std::size_t i = 0; i < records.size(); ++i)
        if (can_be_drawn(records[i]))
            piece.add(mesh_of(shape_of(run.colonies()[i], records[i])), i);
    return piece;
}

std::string corals_vtp(const Trajectory& run, int snapshot) {
    const auto records = run.colonies_at(0, snapshot);
    const Piece piece = piece_of(run, records);
    std::string figures = data_array("colony", piece.colony);
    for (const auto& quantity : kColonyQuantities)
        figures += data_array(fmt::format("{} [{}]", quantity.dataset, quantity.units),
                              piece.spread(records, quantity.value));
    return vtk_file(
        "PolyData",
        fmt::format(
            "<PolyData><Piece NumberOfPoints=\"{}\" NumberOfVerts=\"0\" "
            "NumberOfLines=\"0\" NumberOfStrips=\"0\" NumberOfPolys=\"{}\">\n"
            "<Points>\n{}</Points>\n<Polys>\n{}{}</Polys>\n<CellData>\n{}</CellData>\n"
            "</Piece></PolyData>\n",
            piece.points_m.size() / 3, piece.ends.size(), data_array("points", piece.points_m, 3),
            data_array("connectivity", piece.corners), data_array("offsets", piece.ends), figures));
}

std::string bed_array(const char* name, const std::vector<double>& map) {
    return data_array(name, std::vector<float>(map.begin(), map.end()));
}

std::string bed_vti(const Trajectory& run, int snapshot) {
    const BedGrid& grid = run.bed_grid();
    const BedObservation bed = run.bed_at(0, snapshot);
    const std::string extent = fmt::format("0 {} 0 {} 0 0", grid.nx, grid.ny);
    return vtk_file(
        "ImageData",
        fmt::format("<ImageData WholeExtent=\"{0}\" Origin=\"0 0 0\" Spacing=\"{1} {2} 1\">"
                    "<Piece Extent=\"{0}\">\n<CellData>\n{3}{4}{5}</CellData>\n"
                    "</Piece></ImageData>\n",
                    extent, grid.cell_x_m, grid.cell_y_m,
                    bed_array("ppfd [umol m-2 s-1]", bed.ppfd_umol_m2_s),
                    bed_array("shear_stress [Pa]", bed.shear_stress_Pa),
                    bed_array("fallout [kg m-2 d-1]", bed.deposition_kg_m2_d)));
}

std::string data_set(double day_d, int part, const std::string& file) {
    return fmt::format("<DataSet timestep=\"{}\" part=\"{}\" file=\"{}\"/>\n", day_d, part, file);
}

}  // namespace

void export_vtk(const Trajectory& run, const std::vector<int>& months, const ExportSink& sink) {
    std::string list;
    for (const int month : months) {
        const int snapshot = snapshot_at_month(run, month);
        const double day_d = run.days_d()[static_cast<std::size_t>(snapshot)];
        const auto corals = fmt::format("corals_{:02}.vtp", month);
        const auto bed = fmt::format("bed_{:02}.vti", month);
        sink(corals, corals_vtp(run, snapshot));
        sink(bed, bed_vti(run, snapshot));
        list += data_set(day_d, 0, corals) + data_set(day_d, 1, bed);
    }
    sink("run.pvd", vtk_file("Collection", "<Collection>\n" + list + "</Collection>\n"));
}

}  // namespace bedshade
