# A room is one library target. Its dependencies must have been declared before it, so the order of
# the calls in src/CMakeLists.txt is the one-way order of the house.
#
#   ohmdrag_room(<name> [DEPENDS rooms...] [PRIVATE_LINK targets...] SOURCES files...)
function(ohmdrag_room name)
  cmake_parse_arguments(ROOM "" "" "DEPENDS;PRIVATE_LINK;SOURCES" ${ARGN})
  foreach(dep IN LISTS ROOM_DEPENDS)
    if(NOT TARGET ohmdrag_${dep})
      message(FATAL_ERROR "room '${name}' may not use '${dep}': it stands below it")
    endif()
  endforeach()
  add_library(ohmdrag_${name} STATIC ${ROOM_SOURCES})
  add_library(ohmdrag::${name} ALIAS ohmdrag_${name})
  set_target_properties(ohmdrag_${name} PROPERTIES EXPORT_NAME ${name})
  target_compile_features(ohmdrag_${name} PUBLIC cxx_std_20)
  target_include_directories(ohmdrag_${name}
    PUBLIC $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}/include>
           $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}>
    PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/..)
  list(TRANSFORM ROOM_DEPENDS PREPEND ohmdrag_)
  target_link_libraries(ohmdrag_${name}
    PUBLIC Boost::headers ${ROOM_DEPENDS}
    PRIVATE $<BUILD_INTERFACE:ohmdrag_build_flags> fmt::fmt ${ROOM_PRIVATE_LINK})
  if(NOT name STREQUAL "quantity")
    target_precompile_headers(ohmdrag_${name} REUSE_FROM ohmdrag_quantity)
  endif()
  install(TARGETS ohmdrag_${name} EXPORT ohmdrag ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
endfunction()

# Sources whose loops run over samples as lanes (numerics/lane_width.hpp). Without these two every
# width of vector would round differently, and a select would stay a branch. The precompiled header
# was made without them. After FINITE stand those whose loops meet neither infinities nor
# not-a-numbers: a bound on a value is one instruction there, not four.
#
#   ohmdrag_lane_sources([files...] [FINITE files...])
function(ohmdrag_lane_sources)
  cmake_parse_arguments(LANES "" "" "FINITE" ${ARGN})
  set(options "-ffp-contract=off;-fno-trapping-math")
  set_source_files_properties(${LANES_UNPARSED_ARGUMENTS} ${LANES_FINITE} PROPERTIES
    COMPILE_OPTIONS "${options}" SKIP_PRECOMPILE_HEADERS ON)
  if(LANES_FINITE)
    set_source_files_properties(${LANES_FINITE} PROPERTIES
      COMPILE_OPTIONS "${options};-ffinite-math-only;-fno-signed-zeros")
  endif()
endfunction()
