#include "ohmdrag/report/leaks.hpp"

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/edition.hpp"
#include "report/json_rows.hpp"

namespace ohmdrag::report {
namespace {

constexpr double equal = 1e-12;       // more than arithmetic between units loses
constexpr int digits_of_a_round = 2;  // "7" or "20" stands in any report

bool is_round(double value) {
  return std::abs(std::stod(print_number(value, digits_of_a_round)) - value) <=
         equal * std::abs(value);
}

/// The number in every unit of its kind, shares in per cent as well.
std::vector<double> sizes_of(const UncertainNumber& number) {
  std::vector<double> out;
  const double si = number.mid();
  for (const UnitSpelling& unit : row_of(number.dimension).units)
    out.push_back((si - unit.offset) / unit.factor);
  std::erase_if(out, [](double size) { return !std::isfinite(size) || is_round(size); });
  return out;
}

void search(const Json& node, const std::string& path, const UncertainNumber& number,
            const std::vector<double>& sizes, std::vector<Leak>& found) {
  if (node.is_structured()) {
    for (const auto& [key, child] : node.items())
      search(child, path.empty() ? key : path + '.' + key, number, sizes, found);
  } else if (node.is_number()) {
    const double value = node.get<double>();
    if (std::ranges::any_of(
            sizes, [&](double size) { return std::abs(value - size) <= equal * std::abs(size); }))
      found.push_back({number.key, path});
  } else if (node.is_string()) {
    const auto text = node.get<std::string>();
    if (study::without_sealed(text, {number}) != text) found.push_back({number.key, path});
  }
}

}  // namespace

std::vector<Leak> leaks(const std::string& document, const std::vector<UncertainNumber>& sealed) {
  std::vector<Leak> found;
  const Json tree = Json::parse(document);
  for (const UncertainNumber& number : sealed) search(tree, {}, number, sizes_of(number), found);
  return found;
}

}  // namespace ohmdrag::report
