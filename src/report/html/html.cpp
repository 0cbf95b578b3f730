#include "ohmdrag/report/html.hpp"

#include "report/html/markup.hpp"
#include "report/html/parts_of_page.hpp"

namespace ohmdrag::report {
namespace {

/// Nothing may be loaded, sent or run but the page's own script, named by its hash. Drawings carry
/// inline styles; what is saved as a picture goes through a blob of the page's own.
std::string policy(std::string_view script_hash) {
  return "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src "
         "'sha256-" +
         std::string(script_hash) +
         "'; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action "
         "'none'\">\n";
}

}  // namespace

std::string html(const study::Findings& findings, const HtmlParts& parts) {
  const Subject about = subject(findings);
  const std::string title = findings.title.empty() ? findings.file : findings.title;
  std::string out = "<!DOCTYPE html>\n<html lang=en>\n<head>\n<meta charset=utf-8>\n" +
                    policy(parts.data("report/page.js.sha256")) +
                    "<meta name=viewport content=\"width=device-width, initial-scale=1\">\n"
                    "<meta name=color-scheme content=\"light dark\">\n<title>" +
                    escaped_heading(title) + "</title>\n<style>\n";
  out += parts.data("report/page.css");
  out += "</style>\n</head>\n<body>\n<a class=skip href=\"#answer\">To the answer</a>\n<main>\n";
  out += first_page(about, parts);
  out += appendices(about, parts);
  out += "</main>\n<script>";
  out += parts.data("report/page.js");
  out += "</script>\n</body>\n</html>\n";
  return out;
}

}  // namespace ohmdrag::report
