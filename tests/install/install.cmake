# Installs the build into an empty folder, builds a small project against what is there, and runs
# it and the installed program.
#
#   cmake -DBUILD=<build> -DSOURCE=<project> -DWORK=<folder> -DGENERATOR=<name> -DCXX=<compiler>
#         -DFLAGS=<compile flags> -P install.cmake
cmake_minimum_required(VERSION 3.25)

function(run)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE status OUTPUT_VARIABLE out ERROR_VARIABLE err)
  if(NOT status EQUAL 0)
    list(JOIN ARGN " " command)
    message(FATAL_ERROR "${command}\nended with ${status}\n${out}${err}")
  endif()
  set(output "${out}" PARENT_SCOPE)
endfunction()

file(REMOVE_RECURSE ${WORK})
set(prefix ${WORK}/prefix)
run(${CMAKE_COMMAND} --install ${BUILD} --prefix ${prefix})

# A header or a package file that names the tree would work here and nowhere else.
file(GLOB_RECURSE installed ${prefix}/*.cmake ${prefix}/*.hpp)
if(NOT installed)
  message(FATAL_ERROR "nothing was installed")
endif()
foreach(file IN LISTS installed)
  file(READ ${file} text)
  foreach(place IN ITEMS ${SOURCE} ${BUILD})
    string(FIND "${text}" "${place}/" at)
    if(NOT at EQUAL -1)
      message(FATAL_ERROR "${file} names ${place}")
    endif()
  endforeach()
endforeach()

run(${CMAKE_COMMAND} -G ${GENERATOR} -S ${SOURCE}/tests/install/consumer -B ${WORK}/consumer
    -DCMAKE_PREFIX_PATH=${prefix} -DCMAKE_CXX_COMPILER=${CXX} "-DCMAKE_CXX_FLAGS=${FLAGS}")
run(${CMAKE_COMMAND} --build ${WORK}/consumer)

set(case ${SOURCE}/cases/parcel-van/case.toml)
run(${WORK}/consumer/consumer ${case})
string(STRIP "${output}" watts)
# A reduced-force lip on a 45 mm shaft at 5000 1/min takes tens of watts.
if(NOT watts MATCHES "^[0-9.]+$" OR watts LESS 5 OR watts GREATER 200)
  message(FATAL_ERROR "the consumer printed '${watts}', no watts of a lip seal")
endif()

run(${prefix}/bin/ohmdrag budget ${case} --json --quiet)
string(JSON variants GET "${output}" variants)
string(JSON rows LENGTH "${variants}" 0 budget)
foreach(i RANGE ${rows})
  if(i EQUAL rows)
    message(FATAL_ERROR "the installed program has no seal at cruise")
  endif()
  string(JSON row GET "${variants}" 0 budget ${i})
  string(JSON point GET "${row}" point)
  string(JSON component GET "${row}" component)
  if(point STREQUAL "cruise" AND component STREQUAL "seal")
    string(JSON mid GET "${row}" own_W mid)
    break()
  endif()
endforeach()
string(SUBSTRING "${mid}" 0 5 mid_digits)
string(SUBSTRING "${watts}" 0 5 watts_digits)
if(NOT mid_digits STREQUAL watts_digits)
  message(FATAL_ERROR "the consumer computed ${watts} W, the installed program ${mid} W")
endif()
message(STATUS "installed, found, built, run: ${watts} W")
