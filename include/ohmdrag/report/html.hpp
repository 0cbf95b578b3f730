#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/study/findings.hpp"

/// The trade study as one HTML file that needs nothing beside itself: no network, no second file.
namespace ohmdrag::report {

/// A file the case was read from, to be carried inside the report.
struct SourceFile {
  std::string name;     ///< as the program was given it
  std::string content;  ///< its bytes
  std::string sha256;   ///< of the bytes; empty content with a hash: too large to be carried
};

/// The working of a figure, folded into the page beside it.
struct Working {
  std::string figure;  ///< as `explain` names it, "net_W:dense-ring@cruise"
  std::string what;
  std::vector<std::string> lines;  ///< the chain, as `explain` prints it
  std::vector<std::string> notes;
};

/// The figures whose workings belong into the page, those of its first screen first; some of them
/// may not exist in the case.
std::vector<std::string> workings_wanted(const study::Findings& findings);

/// What the page is made of besides the findings.
struct HtmlParts {
  /// A file of the program's own data by its path, "report/page.css".
  std::function<std::string_view(std::string_view path)> data;
  std::vector<SourceFile> files;  ///< of the case, the case file first
  std::vector<Working> workings = {};
};

/// The report: one page first, then the appendices. Figures are those of the findings in digits
/// that follow their intervals; nothing is computed here but layout.
///
/// Without scripting every chart is a table of the same figures. Whatever the case says is shown as
/// text: nothing of it can become markup or script, and a content security policy names the one
/// script by its hash and forbids every address. The file is valid UTF-8.
///
/// A file of the case stands in `<code data-file="NAME">` (base64 where `data-encoding` says so);
/// its text content as an HTML parser gives it is the file, byte for byte.
///
/// \throws std::invalid_argument if `parts.data` lacks a file of the page.
std::string html(const study::Findings& findings, const HtmlParts& parts);

}  // namespace ohmdrag::report
