#include "ohmdrag/report/sweep_csv.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "report/csv_cell.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

using study::HeadlineFigure;
using study::VariantHeadlines;

const char* yes_or_no(bool value) { return value ? "yes" : "no"; }

const HeadlineFigure* find(const VariantHeadlines& variant, const std::string& name) {
  const auto found = std::ranges::find(variant.figures, name, &HeadlineFigure::name);
  return found == variant.figures.end() ? nullptr : &*found;
}

/// Adds a sentence without its stop.
void append(std::string& remark, const std::string& more) {
  if (more.empty()) return;
  remark += (remark.empty() ? "" : "; ") + more;
}

}  // namespace

SweepCsv::SweepCsv(const study::Design& design, const study::Headlines& like, bool draws)
    : draws_(draws) {
  for (const study::DesignAxis& axis : design.axes)
    axes_.push_back(axis.unit.empty() ? axis.key : fmt::format("{} [{}]", axis.key, axis.unit));
  for (const HeadlineFigure& figure : like.variants.front().figures)
    figures_.push_back(figure.name);
}

std::string SweepCsv::head(const std::vector<SweepComment>& comments) const {
  std::string text;
  for (const SweepComment& comment : comments)
    text += fmt::format("# {}: {}\n", comment.label, harmless(comment.text));
  text += "row,variant";
  for (const std::string& axis : axes_) text += ',' + csv_cell(axis);
  text += ",chosen,nondominated";
  if (draws_) text += ",probability_best";
  text += ",requirements_met,requirements_asked,requirements_missed";
  for (const std::string& figure : figures_) {
    text += ',' + csv_cell(figure);
    if (draws_) text += ',' + csv_cell(figure + "_low") + ',' + csv_cell(figure + "_high");
  }
  return text + ",flags,remark\n";
}

std::string SweepCsv::begin_of(const study::DesignRow& row, const std::string& variant) const {
  std::string text = fmt::format("{},{}", row.row + 1, csv_cell(variant));
  for (const std::string& value : row.cells) text += ',' + csv_cell(value);
  return text;
}

std::string SweepCsv::lines(const study::DesignRow& row, const study::Headlines& headlines) const {
  std::string text;
  for (const VariantHeadlines& variant : headlines.variants) {
    text += begin_of(row, variant.variant);
    text += fmt::format(",{},{}", yes_or_no(variant.chosen), yes_or_no(variant.nondominated));
    if (draws_) text += fmt::format(",{}", variant.probability_best);
    text += fmt::format(",{},{},{}", variant.requirements_met, variant.requirements_asked,
                        csv_cell(fmt::format("{}", fmt::join(variant.requirements_missed, " "))));
    std::string remark = variant.verdict;
    if (!headlines.any_chosen)
      append(remark, "nothing chosen: no variant that demonstrably helps meets every requirement");
    for (const std::string& name : figures_) {
      const HeadlineFigure* figure = find(variant, name);
      if (figure && figure->value) {
        text += fmt::format(",{}", figure->value->mid);
        if (draws_) text += fmt::format(",{},{}", figure->value->low, figure->value->high);
        continue;
      }
      text += draws_ ? ",,," : ",";
      append(remark, fmt::format("no {}: {}", name,
                                 figure ? figure->why : "the case of this row has none"));
    }
    for (const HeadlineFigure& figure : variant.figures)
      if (std::ranges::find(figures_, figure.name) == figures_.end())
        append(remark, fmt::format("{} is left out: the head has no such column", figure.name));
    text += ',' + csv_cell(fmt::format("{}", fmt::join(variant.flags, " ")));
    text += ',' + csv_cell(remark) + '\n';
  }
  return text;
}

std::string SweepCsv::refused(const study::DesignRow& row, const std::string& complaint) const {
  // Two of the choice, three of requirements, flags; with draws one and two a figure more.
  const std::size_t empty = 6 + (draws_ ? 1 + 3 * figures_.size() : figures_.size());
  return begin_of(row, {}) + std::string(empty, ',') + ',' + csv_cell("refused: " + complaint) +
         '\n';
}

}  // namespace ohmdrag::report
