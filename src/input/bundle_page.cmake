# The script of the HTML report: the page's own part and the libraries that draw its charts, fetched
# by npm as data/report/package-lock.json names them, in one file.
#
# Sets bundled_page in the caller: "path in the program=file" of what it makes.
function(ohmdrag_bundle_page report_dir)
  find_program(NODE node REQUIRED)
  find_program(NPM npm REQUIRED)
  set(dir ${PROJECT_BINARY_DIR}/report)
  set(fetched ${dir}/node_modules/.package-lock.json)
  add_custom_command(
    OUTPUT ${fetched}
    DEPENDS ${report_dir}/package.json ${report_dir}/package-lock.json
    COMMAND ${CMAKE_COMMAND} -E copy ${report_dir}/package.json ${report_dir}/package-lock.json ${dir}
    COMMAND ${NPM} ci --prefix ${dir} --no-audit --no-fund --loglevel=error
    COMMAND ${CMAKE_COMMAND} -E touch ${fetched}
    COMMENT "Fetching what draws the charts of the report"
    VERBATIM)
  add_custom_command(
    OUTPUT ${dir}/page.js ${dir}/page.js.sha256
    DEPENDS ${fetched} ${report_dir}/page.mjs ${report_dir}/bundle.mjs
    COMMAND ${NODE} ${report_dir}/bundle.mjs ${report_dir}/page.mjs ${dir}/page.js
    WORKING_DIRECTORY ${dir}
    COMMENT "Bundling the script of the report"
    VERBATIM)
  set(bundled_page "report/page.js=${dir}/page.js" "report/page.js.sha256=${dir}/page.js.sha256"
      PARENT_SCOPE)
endfunction()
