# Counts the published checks by kind, and fails if one carries no kind or two.
#   cmake -DTEST_BINARY=... -P count.cmake
function(count selection result)
  execute_process(COMMAND ${TEST_BINARY} ${selection} --list-test-names-only
                  OUTPUT_VARIABLE names RESULT_VARIABLE ignored)
  string(STRIP "${names}" names)
  if(names STREQUAL "")
    set(${result} 0 PARENT_SCOPE)
    return()
  endif()
  string(REPLACE ";" "," names "${names}")
  string(REPLACE "\n" ";" names "${names}")
  list(LENGTH names number)
  set(${result} ${number} PARENT_SCOPE)
endfunction()

count("*" all)
set(sum 0)
foreach(kind printed formula derived)
  count("[${kind}]" ${kind})
  math(EXPR sum "${sum} + ${${kind}}")
endforeach()
message(STATUS "value printed by an outside source: ${printed}")
message(STATUS "formula from an outside source, value ours: ${formula}")
message(STATUS "our own derivation or regression: ${derived}")
if(NOT sum EQUAL all)
  message(FATAL_ERROR "${all} checks, but ${sum} kinds: each carries exactly one of "
                      "[printed] [formula] [derived]")
endif()
