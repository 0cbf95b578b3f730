#include <nlohmann/json.hpp>

#include "report/html/markup.hpp"
#include "report/html/parts_of_page.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

/// A word of a command line as a shell reads it back.
std::string quoted(const std::string& word) {
  std::string out = "'";
  for (const char c : word) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::string command_of(const study::Findings& findings) {
  std::string out = "ohmdrag " + findings.command + ' ' + quoted(findings.file);
  for (const std::string& change : findings.changes) out += " --set " + quoted(change);
  if (findings.window) out += " --with-window";
  return out + " --json";
}

/// Text whose only difference to the file, once an HTML parser has read it, is none: markup and
/// what a parser would change (carriage returns, a byte-order mark) stand as references.
std::string verbatim(std::string_view text) {
  std::string out;
  for (const char c : text)
    if (c == '\r')
      out += "&#13;";
    else
      append_markup_free(c, out);
  return out;
}

/// RFC 4648, section 4.
std::string base64(std::string_view bytes) {
  constexpr std::string_view digits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t taken = std::min<std::size_t>(3, bytes.size() - i);
    unsigned group = 0;
    for (std::size_t k = 0; k < 3; ++k)
      group = (group << 8U) | (k < taken ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k)
      out += k <= taken ? digits[(group >> (18U - 6U * static_cast<unsigned>(k))) & 63U] : '=';
  }
  return out;
}

/// What `harmless` leaves as it is can stand as text: everything but control characters, direction
/// marks and broken UTF-8. Line ends and tabs it would blank, and they are fine here.
bool stands_as_text(std::string_view content) {
  std::string without_layout;
  for (const char c : content)
    if (c != '\n' && c != '\r' && c != '\t') without_layout += c;
  return harmless(without_layout) == without_layout;
}

std::string file_of(const SourceFile& file) {
  std::string out = "<details class=file><summary>" + escaped(file.name) +
                    "</summary>\n<p>SHA-256 " + escaped(file.sha256) + "</p>\n";
  if (file.content.empty())
    return out + "<p>Too large to be carried here; the hash says which one it was.</p></details>\n";
  const bool text = stands_as_text(file.content);
  return out + "<p class=save hidden></p>\n<pre tabindex=0><code data-file=\"" +
         escaped(file.name) + "\"" + (text ? "" : " data-encoding=base64") + ">" +
         (text ? verbatim(file.content) : base64(file.content)) + "</code></pre></details>\n";
}

std::string row_of(const std::string& what, const std::string& value) {
  return "<tr><th scope=row>" + what + "</th><td class=w>" + escaped(value) + "</td></tr>\n";
}

}  // namespace

std::string reproducibility(const study::Findings& findings, const HtmlParts& parts) {
  std::string out =
      "<div class=scroll tabindex=0 role=region aria-label=\"Version, seed and hashes\"><table>"
      "<caption class=unseen>Version, seed and hashes</caption><tbody>\n";
  out += row_of("program", "ohmdrag " + findings.version);
  out += row_of("result document", findings.schema);
  out += row_of("seed", std::to_string(findings.seed));
  out += row_of("draws", std::to_string(findings.samples));
  out += row_of("SHA-256 of " + escaped(findings.file), findings.sha256);
  for (const auto& [file, hash] : findings.includes)
    out += row_of("SHA-256 of " + escaped(file), hash);
  out += row_of("command", command_of(findings));
  if (!findings.sealed_sha256.empty())
    out += row_of("SHA-256 of what is sealed", findings.sealed_sha256);
  out += "</tbody></table></div>\n";
  out +=
      findings.sealed_keys.empty()
          ? "<p>Save each file under its name in an empty folder, start the command there, and "
            "the result document is the same, byte for byte, with the same version of the "
            "program."
          : "<p>The files are the open part of the case. Sealed values stand in them as bands, so "
            "that the command gives wider results. Whoever has the whole case gets this edition "
            "again, with the same hashes.";
  out +=
      " A program reads a file out of this page as the text of the element <code>code</code> with "
      "the attribute <code>data-file</code>, base64 where <code>data-encoding</code> says "
      "so.</p>\n";
  for (const SourceFile& file : parts.files) out += file_of(file);
  return out;
}

std::string method(const HtmlParts& parts) {
  const auto lines = nlohmann::json::parse(parts.data("report/method.json"));
  Table table{.columns = {{"figure", "", Align::left, true},
                          {"formula", "", Align::left, true},
                          {"valid for", "", Align::left, true},
                          {"source", "", Align::left, true}},
              .rows = {}};
  for (const auto& line : lines)
    table.rows.push_back({words(line.at("figure")), words(line.at("formula")),
                          words(line.at("validity")), words(line.at("source"))});
  return "<p>What stands behind the figures. A formula outside the range that it holds for is "
         "marked with a note beside the figure.</p>\n" +
         markup(table, "Formulas, where they hold, and their sources");
}

}  // namespace ohmdrag::report
