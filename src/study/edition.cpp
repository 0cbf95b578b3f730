#include "ohmdrag/study/edition.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/edition_figures.hpp"

namespace ohmdrag::study {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// Between the powers of ten around a size; the band of a negative one is its mirror.
Interval decade_of(double value) {
  if (value == 0.0 || !std::isfinite(value)) return {nan, nan, nan};
  // A hair of slack: 0.1 that arithmetic left at 0.0999999999999 still begins its decade.
  constexpr double noise = 1e-9;
  const double low = std::pow(10.0, std::floor(std::log10(std::abs(value) * (1.0 + noise))));
  return value > 0.0 ? Interval{low, nan, 10.0 * low} : Interval{-10.0 * low, nan, -low};
}

Interval step_of(double degrees) {
  constexpr double step = 50.0;
  const double low = step * std::floor(degrees / step);
  return {low, nan, low + step};
}

/// The ways in which a value may stand in a text, the longest first.
std::vector<std::string> spellings_of(const UncertainNumber& number) {
  std::set<std::string> out;
  constexpr int fewest_digits = 2, most_digits = 6;
  for (const UnitSpelling& unit : row_of(number.dimension).units) {
    if (unit.text == "1") continue;  // a bare number may be any other
    for (const double si :
         {number.mid(), number.spread.interval().low, number.spread.interval().high})
      for (int digits = fewest_digits; digits <= most_digits; ++digits)
        out.insert(fmt::format("{} {}", print_number((si - unit.offset) / unit.factor, digits),
                               unit.text));
  }
  if (number.dimension != Dimension::ratio && !number.unknown) out.insert(number.read_as);
  std::vector<std::string> longest_first(out.begin(), out.end());
  std::erase_if(longest_first, [](const std::string& text) { return text.empty(); });
  std::ranges::stable_sort(longest_first, std::ranges::greater{}, &std::string::size);
  return longest_first;
}

/// True if the number that begins at `at` does not go on before it: "5 W" is not in "15 W".
bool begins_a_number(const std::string& text, std::size_t at) {
  if (at == 0) return true;
  const char before = text[at - 1];
  return !(before >= '0' && before <= '9') && before != '.';
}

void seal(Assumption& row, const UncertainNumber& number) {
  const InUnit band = band_of(number);
  row.interval = band.value;
  row.unit = band.unit;
  row.value = std::isnan(band.value.low)
                  ? "sealed"
                  : fmt::format("sealed, {} … {}", print_number(band.value.low, 1),
                                print_number(band.value.high, 1));
  row.source = "sealed";
}

}  // namespace

std::vector<UncertainNumber> sealed_numbers(const Case& question, Share reader) {
  std::vector<UncertainNumber> out;
  std::set<std::string> seen;
  for_each_number(question, [&](const UncertainNumber& number) {
    if (is_sealed_for(reader, number.share) && seen.insert(number.key).second)
      out.push_back(number);
  });
  return out;
}

InUnit band_of(const UncertainNumber& number) {
  const double middle = number.mid();
  const InUnit shown = in_engineering_unit({middle, middle, middle}, number.dimension);
  const bool temperature = number.dimension == Dimension::temperature;
  return {temperature ? step_of(shown.value.mid) : decade_of(shown.value.mid), shown.unit};
}

std::string band_in_words(const UncertainNumber& number) {
  const InUnit band = band_of(number);
  if (std::isnan(band.value.low)) return {};
  std::string text =
      fmt::format("{} … {}", print_number(band.value.low, 2), print_number(band.value.high, 2));
  return band.unit.empty() ? text : text + ' ' + band.unit;
}

std::string without_sealed(std::string text, const std::vector<UncertainNumber>& sealed) {
  for (const UncertainNumber& number : sealed)
    for (const std::string& spelling : spellings_of(number))
      for (std::size_t at = text.find(spelling); at != std::string::npos;
           at = text.find(spelling, at + 1)) {
        if (!begins_a_number(text, at)) continue;
        text.replace(at, spelling.size(), "[sealed]");
      }
  return text;
}

std::string key_of_set(const std::string& set) {
  std::string key = set.substr(0, set.find('='));
  key.erase(key.find_last_not_of(" \t") + 1);
  key.erase(0, key.find_first_not_of(" \t"));
  return key;
}

std::string change_for(const std::string& set, const std::vector<UncertainNumber>& sealed) {
  const std::string key = key_of_set(set);
  const bool names_one = std::ranges::any_of(sealed, [&](const UncertainNumber& number) {
    return number.key == key || number.key.starts_with(key + '.');
  });
  return names_one ? key + "=[sealed]" : without_sealed(set, sealed);
}

std::vector<std::string> ids_that_tell(const Case& question,
                                       const std::vector<UncertainNumber>& sealed) {
  std::vector<std::string> ids;
  const auto collect = [&](const auto& rows) {
    for (const auto& row : rows) ids.push_back(row.id);
  };
  collect(question.variants);
  collect(question.points);
  collect(question.duties);
  collect(question.requirements);
  collect(question.shafts);
  collect(question.bearings);
  std::vector<std::string> telling;
  for (const UncertainNumber& number : sealed) {
    std::string digits = number.read_as.substr(0, number.read_as.find_first_not_of("0123456789."));
    std::erase(digits, '.');
    digits.erase(0, digits.find_first_not_of('0'));
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.size() < 3) continue;
    for (const std::string& id : ids)
      if (id.find(digits) != std::string::npos)
        telling.push_back(fmt::format("{} ({})", id, number.key));
  }
  return telling;
}

Findings findings_for(Share reader, const Case& question, Findings findings) {
  findings.reader = std::string(to_word(reader));
  const std::vector<UncertainNumber> sealed = sealed_numbers(question, reader);
  if (sealed.empty()) return findings;
  for (const UncertainNumber& number : sealed) findings.sealed_keys.push_back(number.key);
  for (Assumption& row : findings.assumptions) {
    const auto number = std::ranges::find(sealed, row.name, &UncertainNumber::key);
    if (number != sealed.end()) seal(row, *number);
  }
  for (std::string& change : findings.changes) change = change_for(change, sealed);
  take_out_echoes(question, sealed, findings);
  for_each_text(findings,
                [&](std::string& text) { text = without_sealed(std::move(text), sealed); });
  findings.cautions.push_back(fmt::format(
      "Edition for {} readers: {} values are sealed. Each shows its basis, its rank and "
      "a band, not its value; figures that would repeat it are left out.",
      findings.reader, sealed.size()));
  return findings;
}

}  // namespace ohmdrag::study
