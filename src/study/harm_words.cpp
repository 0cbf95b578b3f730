#include <fmt/format.h>

#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "study/exchange.hpp"

namespace ohmdrag::study {

std::string harm_in_words(const Case& question, const VariantFindings& findings) {
  const auto row_of = [&](const char* what) -> const HarmRow* {
    const auto row = std::ranges::find(findings.harm, what, &HarmRow::what);
    return row == findings.harm.end() ? nullptr : &*row;
  };
  std::string text;
  if (harms_bearings(findings))
    text = fmt::format(
        "debris of the element in the oil leaves the worst bearing {} of its modified rating life",
        print_interval(*row_of("oil")->figure));
  if (row_of("circulating-current") && machine_is_large(question))
    text += fmt::format(
        "{}the element closes a path for circulating bearing current, which a machine above about "
        "100 kW "
        "can "
        "drive and this study does not model",
        text.empty() ? "" : ", and ");
  return text;
}

bool harms_bearings(const VariantFindings& findings) {
  return std::ranges::any_of(findings.harm, [](const HarmRow& row) {
    return row.what == "oil" && row.figure && row.figure->high < 1.0;
  });
}

}  // namespace ohmdrag::study
