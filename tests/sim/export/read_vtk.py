"""Reads an export for VTK with VTK itself and compares it with the trajectory read by h5py.

Usage: read_vtk.py RUN.h5 FOLDER MONTH FRAME. Prints what differs and exits with 1.
"""
import sys

import h5py
import numpy
import vtk
from vtk.util.numpy_support import vtk_to_numpy


def read(reader, path):
    reader.SetFileName(path)
    reader.Update()
    return reader.GetOutput()


def require(holds, words):
    if not holds:
        sys.exit(f"{words} differ")


run, folder, month, frame = h5py.File(sys.argv[1]), sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
corals = read(vtk.vtkXMLPolyDataReader(), f"{folder}/corals_{month:02}.vtp")
bed = read(vtk.vtkXMLImageDataReader(), f"{folder}/bed_{month:02}.vti")

present = run["colony/present"][0, frame].astype(bool)
whose = vtk_to_numpy(corals.GetCellData().GetArray("colony"))
require(set(whose) == set(numpy.flatnonzero(present)), "the corals drawn")
reserve = vtk_to_numpy(corals.GetCellData().GetArray("reserve [1]"))
require((reserve == run["colony/reserve"][0, frame][whose]).all(), "reserves")
ppfd = vtk_to_numpy(bed.GetCellData().GetArray("ppfd [umol m-2 s-1]"))
require((ppfd == run["bed/ppfd"][0, frame].ravel()).all(), "maps of light")

# Each mesh is closed and holds a volume: a surface with holes would have boundary edges.
for colony in numpy.flatnonzero(present):
    one = vtk.vtkThreshold()
    one.SetInputData(corals)
    one.SetInputArrayToProcess(0, 0, 0, vtk.vtkDataObject.FIELD_ASSOCIATION_CELLS, "colony")
    one.SetLowerThreshold(colony)
    one.SetUpperThreshold(colony)
    surface = vtk.vtkGeometryFilter()
    surface.SetInputConnection(one.GetOutputPort())
    edges = vtk.vtkFeatureEdges()
    edges.SetInputConnection(surface.GetOutputPort())
    edges.BoundaryEdgesOn()
    edges.FeatureEdgesOff()
    edges.ManifoldEdgesOff()
    edges.NonManifoldEdgesOff()
    edges.Update()
    require(edges.GetOutput().GetNumberOfCells() == 0, f"the surface of colony {colony} is open: edges")
