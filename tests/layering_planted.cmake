# The layering test tests itself on small trees with one planted include each. A planted mistake
# must be named (its message is matched) and must fail the run.
function(ohmdrag_planted_include name file header message)
  set(root ${CMAKE_CURRENT_BINARY_DIR}/planted/${name})
  file(WRITE ${root}/${file} "#include ${header}\n")
  set(command ${CMAKE_COMMAND} -DROOT=${root} -P ${CMAKE_CURRENT_SOURCE_DIR}/layering.cmake)
  add_test(NAME "layering names: ${name}" COMMAND ${command})
  set_tests_properties("layering names: ${name}" PROPERTIES PASS_REGULAR_EXPRESSION "${message}")
  if(NOT message MATCHES "points up")
    add_test(NAME "layering fails: ${name}" COMMAND ${command})
    set_tests_properties("layering fails: ${name}" PROPERTIES WILL_FAIL TRUE)
  endif()
endfunction()

ohmdrag_planted_include(downward include/ohmdrag/material/a.hpp "\"ohmdrag/contact/b.hpp\""
  "room 'material' must not include 'contact'")
ohmdrag_planted_include(sideways src/contact/a.cpp "\"ohmdrag/bearing/b.hpp\""
  "room 'contact' must not include 'bearing'")
ohmdrag_planted_include(private src/duty/deep/a.cpp "\"../../material/b.hpp\""
  "room 'duty' must not include 'material'")
ohmdrag_planted_include(past-the-parser src/study/a.cpp "<toml++/toml.h>"
  "room 'study' must not know toml")
ohmdrag_planted_include(command-line src/report/a.cpp "<CLI/CLI.hpp>"
  "room 'report' must not know CLI11")
ohmdrag_planted_include(json src/input/a.cpp "<nlohmann/json.hpp>"
  "room 'input' must not know nlohmann")
ohmdrag_planted_include(unknown-room src/cellar/a.cpp "<vector>"
  "'cellar' is no room of the house")
ohmdrag_planted_include(upward src/life/a.cpp "\"ohmdrag/quantity/b.hpp\""
  "1 files, every include points up")
