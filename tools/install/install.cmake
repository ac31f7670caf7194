# Files installed by `cmake --install`, and the Debian packages made from them (tools/package).
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

set(BEDSHADE_ZSH_FOLDER ${CMAKE_INSTALL_DATADIR}/zsh/site-functions CACHE STRING "Where zsh looks for completions")
set(PACKAGE_FOLDER ${CMAKE_INSTALL_LIBDIR}/cmake/bedshade)

# The program, its manuals, documents and scenarios. The trait table and the replay page are compiled in.
install(TARGETS bedshade COMPONENT program)
install(FILES ${MANUALS}/bedshade.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
install(FILES ${MANUALS}/bedshade DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES ${MANUALS}/_bedshade DESTINATION ${BEDSHADE_ZSH_FOLDER} COMPONENT program)
install(DIRECTORY scenarios DESTINATION ${CMAKE_INSTALL_DATADIR}/bedshade COMPONENT program)
install(FILES README.md LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright COMPONENT program)
install(DIRECTORY notebooks-free-docs DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)

# The libraries, for other programs: find_package(bedshade), bedshade::model, bedshade::sim.
install(TARGETS model sim EXPORT bedshade COMPONENT libraries)
install(DIRECTORY model sim DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/bedshade COMPONENT libraries
        FILES_MATCHING PATTERN *.h)
install(EXPORT bedshade NAMESPACE bedshade:: FILE bedshadeTargets.cmake DESTINATION ${PACKAGE_FOLDER}
        COMPONENT libraries)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/generated/bedshadeConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES tools/install/bedshadeConfig.cmake ${PROJECT_BINARY_DIR}/generated/bedshadeConfigVersion.cmake
        DESTINATION ${PACKAGE_FOLDER} COMPONENT libraries)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_CONTACT "the bedshade developers <bedshade@localhost>")
set(CPACK_VERBATIM_VARIABLES YES)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES YES)
set(CPACK_DEB_COMPONENT_INSTALL YES)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_ENABLE_COMPONENT_DEPENDS NO)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME bedshade)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS YES)
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION "Forecasts which corals a reef layout will starve, smother or crowd")
set(CPACK_DEBIAN_LIBRARIES_PACKAGE_NAME bedshade-dev)
set(CPACK_DEBIAN_LIBRARIES_PACKAGE_SECTION libdevel)
set(CPACK_COMPONENT_LIBRARIES_DESCRIPTION "Libraries, headers and CMake package of bedshade")
# The packages that bedshadeConfig.cmake looks for.
set(CPACK_DEBIAN_LIBRARIES_PACKAGE_DEPENDS "libeigen3-dev, libembree-dev, libfmt-dev, libtomlplusplus-dev, \
nlohmann-json3-dev, libhdf5-dev, libassimp-dev, libceres-dev, libssl-dev, libnlopt-cxx-dev, libudunits2-dev")
include(CPack)
