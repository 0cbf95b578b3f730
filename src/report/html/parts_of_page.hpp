#pragma once

#include <string>

#include "ohmdrag/report/html.hpp"
#include "report/html/subject.hpp"

/// The parts of the HTML page in their order, each a piece of markup.
namespace ohmdrag::report {

/// Question, answer at the strength the evidence bears, three numbers, three doubts, how much rests
/// on assumed inputs, the strongest argument against.
std::string first_page(const Subject& subject, const HtmlParts& parts);
/// From the requirements to the cautions, with a list of contents in front.
std::string appendices(const Subject& subject, const HtmlParts& parts);
/// Where the working of a figure is folded in: "answer", or the id of an appendix.
std::string home_of(const std::string& figure, const Subject& subject);
/// The workings that are at home in a part of the page, under one fold; nothing if there are none.
std::string workings(const std::string& home, const Subject& subject, const HtmlParts& parts);
/// Where the workings of the figures stand that the case asks something of, as links.
std::string workings_of_requirements(const Subject& subject, const HtmlParts& parts);
/// Formulas, sources and ranges, out of data/report/method.json.
std::string method(const HtmlParts& parts);
/// Version, seed, hashes, and the files of the case.
std::string reproducibility(const study::Findings& findings, const HtmlParts& parts);

/// A section with its heading, to which the list of contents leads.
std::string section(const std::string& id, const std::string& heading, const std::string& content);

}  // namespace ohmdrag::report
