# find_package(bedshade): bedshade::model, the science, and bedshade::sim, which takes it through time and files.
# Languages C and CXX must be enabled. What links to these is compiled for the processors that they were compiled
# for: the sizes and alignments of Eigen's vectors depend on it.
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
