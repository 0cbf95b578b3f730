#pragma once

#include <string>

#include "ohmdrag/report/html.hpp"
#include "report/html/subject.hpp"

/// The parts of the HTML page in their order, each a piece of markup.
namespace ohmdrag::report {

/// Question, answer at the strength the evidence bears, three numbers, three doubts, how much rests
/// on assumed inputs, the strongest argument against.
std::string first_page(const Subject& subject);
/// From the requirements to the cautions, with a list of contents in front.
std::string appendices(const Subject& subject, const HtmlParts& parts);
/// Formulas, sources and ranges, out of data/report/method.json.
std::string method(const HtmlParts& parts);
/// Version, seed, hashes, and the files of the case.
std::string reproducibility(const study::Findings& findings, const HtmlParts& parts);

/// A section with its heading, to which the list of contents leads.
std::string section(const std::string& id, const std::string& heading, const std::string& content);

}  // namespace ohmdrag::report
