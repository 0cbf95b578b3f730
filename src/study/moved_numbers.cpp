#include "study/moved_numbers.hpp"

#include <algorithm>

#include "ohmdrag/study/headlines.hpp"
#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::study {
namespace {

/// One step of a number, SI.
double step_of(const UncertainNumber& number) {
  return number.dimension == Dimension::temperature ? 1.0 : moved_part * number.spread.mid;
}

/// Numbers of the case and of its variants' worlds, which are const.
template <class Visit>
void change_each_number(Case& question, const Visit& visit) {
  for_each_number(question, visit);
  for (Variant& variant : question.variants) {
    if (!variant.world) continue;
    auto world = std::make_shared<Case>(*variant.world);
    for_each_number(*world, visit);
    variant.world = std::move(world);
  }
}

}  // namespace

std::string moved_by_in_words(const UncertainNumber& number) {
  return number.dimension == Dimension::temperature ? "1 K" : "1 %";
}

Case with_one_moved(const Case& question, const std::string& key) {
  Case moved = question;
  change_each_number(moved, [&](UncertainNumber& number) {
    if (number.key == key) number.spread.mid += step_of(number);
  });
  keep_to_the_middle(moved);
  return moved;
}

Case with_moved(const Case& question, const std::vector<UncertainNumber>& numbers,
                double direction) {
  Case moved = question;
  change_each_number(moved, [&](UncertainNumber& number) {
    const auto found = std::ranges::find(numbers, number.key, &UncertainNumber::key);
    if (found == numbers.end()) return;
    const double apart = 1.0 + 0.137 * static_cast<double>(found - numbers.begin());
    const double step = step_of(*found);
    number.spread.mid += direction * apart * (step == 0.0 ? moved_part : step);
  });
  return moved;
}

}  // namespace ohmdrag::study
