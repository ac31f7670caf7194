# find_package(bedshade): bedshade::model, the science, and bedshade::sim, the simulation and its files.
# Languages C and CXX must be enabled. Programs that link to these are compiled for the same processors (-march),
# because the sizes and alignments of Eigen's vectors depend on it.
include(CMakeFindDependencyMacro)
find_dependency(Threads)
find_dependency(Eigen3 3.4)
find_dependency(embree 3)
find_dependency(fmt)
find_dependency(tomlplusplus)
find_dependency(nlohmann_json)
find_dependency(HDF5 COMPONENTS C CXX HL)
find_dependency(assimp)
find_dependency(Ceres)
find_dependency(OpenSSL COMPONENTS Crypto)
find_dependency(NLopt)
include(${CMAKE_CURRENT_LIST_DIR}/bedshadeTargets.cmake)
