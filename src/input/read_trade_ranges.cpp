#include <array>
#include <string_view>
#include <variant>

#include "input/case_reader.hpp"
#include "ohmdrag/quantity/read.hpp"
#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::input {
namespace {

/// The key as ranges of the trade go by it: "bearing.drive-end.capacitance" without the id, a
/// default as what it stands in for.
std::string without_id(const std::string& key) {
  constexpr std::array<std::array<std::string_view, 2>, 3> stand_ins{
      {{"shaft_defaults.", "shaft."},
       {"sump_defaults.", "sump."},
       {"vehicle_defaults.", "vehicle.path."}}};
  for (const auto& [default_key, stated_key] : stand_ins)
    if (key.starts_with(default_key))
      return std::string(stated_key) + key.substr(default_key.size());
  const std::size_t first = key.find('.');
  if (first == std::string::npos) return key;
  const std::size_t second = key.find('.', first + 1);
  return second == std::string::npos ? key : key.substr(0, first) + key.substr(second);
}

}  // namespace

/// What the trade takes each stated number of the case to be, as far as there is a range for it.
void CaseReader::read_trade_ranges() {
  const study::Case& read = out_;
  study::for_each_number(read, [&](const UncertainNumber& number) {
    const Node* range = tables_.trade_range(number.key);
    if (!range) range = tables_.trade_range(without_id(number.key));
    const Node* value = range && range->is_value_table() ? range->find("value") : range;
    if (!value || !value->is_text()) return;
    // A range that cannot be read is complained of where a case asks for it.
    const auto text = read_quantity(value->text, number.dimension);
    if (const auto* distribution = std::get_if<Distribution>(&text))
      out_.trade_ranges[number.key] = {*distribution, range->source};
  });
}

}  // namespace ohmdrag::input
