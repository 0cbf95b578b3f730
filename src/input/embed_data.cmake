# Every data file becomes part of the binary: one assembler source includes the bytes as they are
# (no compiler sees them, so size costs nothing), one C++ table names them. Both are written at
# configure time, and only when the list changes; a touched data file reassembles, a new or removed
# one reconfigures.
#
# Further arguments "path=file" embed files that the build makes.
#
# Sets embedded_sources in the caller.
function(ohmdrag_embed_data data_dir)
  set(files)
  foreach(ending toml csv json css)
    file(GLOB_RECURSE found CONFIGURE_DEPENDS RELATIVE ${data_dir} ${data_dir}/*.${ending})
    list(APPEND files ${found})
  endforeach()
  list(FILTER files EXCLUDE REGEX "^report/package")  # read by npm, not by the program
  list(APPEND files ${ARGN})
  list(SORT files)
  if(NOT files)
    message(FATAL_ERROR "no data files in ${data_dir}")
  endif()

  set(bytes "  .section .rodata\n")
  set(symbols "")
  set(rows "")
  set(paths)
  set(n 0)
  foreach(file IN LISTS files)
    set(source ${data_dir}/${file})
    if(file MATCHES "^(.*)=(.*)$")
      set(file ${CMAKE_MATCH_1})
      set(source ${CMAKE_MATCH_2})
    endif()
    string(APPEND bytes
      "  .balign 16\n"
      "  .globl ohmdrag_data_${n}_begin\n  .hidden ohmdrag_data_${n}_begin\n"
      "  .globl ohmdrag_data_${n}_end\n  .hidden ohmdrag_data_${n}_end\n"
      "ohmdrag_data_${n}_begin:\n  .incbin \"${source}\"\nohmdrag_data_${n}_end:\n  .byte 0\n")
    string(APPEND symbols
      "extern \"C\" const char ohmdrag_data_${n}_begin[];\n"
      "extern \"C\" const char ohmdrag_data_${n}_end[];\n")
    string(APPEND rows
      "    ohmdrag::input::EmbeddedRange{\"${file}\", ohmdrag_data_${n}_begin, ohmdrag_data_${n}_end},\n")
    list(APPEND paths ${source})
    math(EXPR n "${n} + 1")
  endforeach()
  string(APPEND bytes "  .section .note.GNU-stack,\"\",%progbits\n")

  set(asm ${CMAKE_CURRENT_BINARY_DIR}/embedded_bytes.s)
  set(table ${CMAKE_CURRENT_BINARY_DIR}/embedded_table.hpp)
  file(CONFIGURE OUTPUT ${asm} CONTENT "${bytes}" @ONLY)
  file(CONFIGURE OUTPUT ${table} CONTENT
    "#pragma once\n\n#include <array>\n\n${symbols}\ninline constexpr std::array embedded_table{\n${rows}};\n"
    @ONLY)
  set_source_files_properties(${asm} PROPERTIES OBJECT_DEPENDS "${paths}")
  set(embedded_sources ${asm} PARENT_SCOPE)
endfunction()
