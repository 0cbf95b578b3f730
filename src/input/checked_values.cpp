#include <set>
#include <string>
#include <vector>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::input {

CheckedValue checked_value(const UncertainNumber& number) {
  CheckedValue out;
  out.key = number.key;
  out.mid = number.spread.mid;
  out.interval = number.spread.interval();
  out.dimension = number.dimension;
  out.unit = std::string{row_of(number.dimension).units.front().text};
  out.read_as = number.read_as;
  out.basis = number.basis;
  out.source = number.source;
  out.unknown = number.unknown;
  out.share = number.share;
  return out;
}

std::vector<CheckedValue> all_values(const study::Case& question) {
  std::vector<CheckedValue> out;
  std::set<std::string> seen;
  study::for_each_number(question, [&](const UncertainNumber& number) {
    if (seen.insert(number.key).second) out.push_back(checked_value(number));
  });
  return out;
}

}  // namespace ohmdrag::input
