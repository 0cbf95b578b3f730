#include "input/design_axis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <memory>
#include <stdexcept>
#include <utility>

#include "ohmdrag/quantity/dimension.hpp"

namespace ohmdrag::input {

namespace {

constexpr std::string_view forms =
    "KEY=A; B; C or KEY=A to B in N steps, the steps by ratio if you say so";

/// A finite number and, after it, nothing or a unit.
struct Measured {
  double value = 0.0;
  std::string digits;
  std::string unit;
};
std::optional<Measured> measured(std::string_view text) {
  text = without_blanks(text);
  if (text.starts_with('+')) text.remove_prefix(1);
  Measured out;
  const char* const end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, out.value);
  if (error != std::errc{} || !std::isfinite(out.value)) return std::nullopt;
  out.digits.assign(text.data(), stop);
  out.unit = without_blanks({stop, static_cast<std::size_t>(end - stop)});
  if (!out.unit.empty() && !is_unit(out.unit)) return std::nullopt;
  return out;
}

/// The number in another unit of its dimension; nothing if no dimension has both.
std::optional<double> converted(const Measured& number, const std::string& unit) {
  if (canonical_unit(number.unit) == canonical_unit(unit)) return number.value;
  for (const Dimension dimension : dimensions_of_unit(unit)) {
    const UnitSpelling* from = find_unit(dimension, number.unit);
    const UnitSpelling* to = find_unit(dimension, unit);
    if (from && to) return (number.value * from->factor + from->offset - to->offset) / to->factor;
  }
  return std::nullopt;
}

/// Takes "in 6 steps" off the end of a range.
std::optional<long long> take_steps(std::string_view& text) {
  constexpr std::string_view end = " steps", begin = " in ";
  if (!text.ends_with(end)) return std::nullopt;
  const std::string_view rest = text.substr(0, text.size() - end.size());
  const std::size_t at = rest.rfind(begin);
  if (at == std::string_view::npos) return std::nullopt;
  const std::string_view digits = without_blanks(rest.substr(at + begin.size()));
  long long count = 0;
  const auto [stop, error] = std::from_chars(digits.data(), digits.data() + digits.size(), count);
  if (error != std::errc{} || stop != digits.data() + digits.size()) return std::nullopt;
  text = without_blanks(rest.substr(0, at));
  return count;
}

/// A range, if the text reads as one.
bool take_range(std::string_view text, WrittenAxis& axis) {
  constexpr std::string_view ratio = " by ratio", between = " to ";
  WrittenAxis range = axis;
  if (text.ends_with(ratio)) {
    range.by_ratio = true;
    text = without_blanks(text.substr(0, text.size() - ratio.size()));
  }
  range.steps = take_steps(text);
  const std::size_t at = text.find(between);
  if (at == std::string_view::npos) return false;
  range.from = without_blanks(text.substr(0, at));
  range.to = without_blanks(text.substr(at + between.size()));
  if (!measured(range.from) || !measured(range.to)) return false;
  axis = std::move(range);
  return true;
}

/// What a table says as it would be typed after `--set KEY=`.
std::string as_set(const Node& node, Problems& problems) {
  if (node.is_text()) return node.text;
  if (node.is_number() || node.kind == Node::Kind::boolean) return node.as_typed();
  problems.add(node.place, node.origin,
               fmt::format("read {}; expected text, a number, true or false", node.as_typed()),
               "text is read as after --set KEY=, so \"[1, 2]\" is a list");
  return {};
}

/// The unit that all values have, and these without it.
void lend_unit(study::DesignAxis& axis) {
  std::vector<std::string> digits;
  std::string unit;
  for (const std::string& value : axis.values) {
    const auto number = measured(value);
    if (!number || number->unit.empty()) return;
    if (unit.empty()) unit = number->unit;
    if (canonical_unit(unit) != canonical_unit(number->unit)) return;
    digits.push_back(number->digits);
  }
  axis.values = std::move(digits);
  axis.unit = std::move(unit);
}

/// The ends of a range in one unit.
void read_ends(const WrittenAxis& written, study::DesignAxis& axis, Problems& problems) {
  const auto complain = [&](std::string what, std::string hint = {}) {
    problems.add(written.place, written.key, std::move(what), std::move(hint));
  };
  const auto from = measured(written.from);
  const auto to = measured(written.to);
  for (const auto& [end, number] : {std::pair(written.from, from), std::pair(written.to, to)})
    if (!number)
      complain(fmt::format("read \"{}\"; expected a number with its unit", end),
               "the ends of a range have no spread of their own; spread = \"± 20 %\" goes with "
               "every step");
  if (!from || !to) return;
  axis.unit = from->unit.empty() ? to->unit : from->unit;
  axis.from = from->value;
  const auto end =
      to->unit.empty() && !from->unit.empty() ? std::nullopt : converted(*to, axis.unit);
  if (!end)
    return complain(to->unit.empty()
                        ? fmt::format("read \"{}\"; expected a unit", written.to)
                        : fmt::format("read {} and {}, which are no units of one dimension",
                                      from->unit, to->unit));
  axis.to = *end;
  axis.by_ratio = written.by_ratio;
  for (const Dimension dimension : dimensions_of_unit(axis.unit))
    if (axis.by_ratio && find_unit(dimension, axis.unit)->offset != 0.0)
      return complain(fmt::format("steps by ratio in {}, whose zero is a convention", axis.unit));
}

}  // namespace

std::string_view without_blanks(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

bool is_unit(std::string_view text) { return !dimensions_of_unit(text).empty(); }

void check_key(const std::string& key, const Place& place, Problems& problems) {
  const auto bad = [](char c) {
    return c == '=' || static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
  };
  if (key.empty() || std::ranges::any_of(key, bad))
    problems.add(place, {}, fmt::format("read \"{}\"; expected a key of the case", key),
                 "for example shaft.rotor.diameter");
}

WrittenAxis axis_of_option(const std::string& typed, std::size_t number, Problems& problems) {
  auto text = std::make_shared<SourceText>();
  text->name = fmt::format("--axis {}", number);
  text->lines = {typed};
  text->numbered = false;
  WrittenAxis axis;
  axis.place = {text, 1, 1, typed.size()};
  const std::size_t equals = typed.find('=');
  axis.key = without_blanks(std::string_view(typed).substr(0, equals));
  if (equals == std::string::npos || axis.key.empty()) {
    problems.add(axis.place, {}, fmt::format("read \"{}\"; expected {}", typed, forms));
    return axis;
  }
  std::string_view rest = without_blanks(std::string_view(typed).substr(equals + 1));
  if (rest.find(';') == std::string_view::npos && take_range(rest, axis)) return axis;
  while (true) {
    const std::size_t end = rest.find(';');
    axis.values.emplace_back(without_blanks(rest.substr(0, end)));
    if (end == std::string_view::npos) return axis;
    rest.remove_prefix(end + 1);
  }
}

WrittenAxis axis_of_table(TableReader& table, Problems& problems) {
  WrittenAxis axis;
  axis.place = table.node()->place;
  axis.key = table.text("key");
  if (const Node* key = table.find("key")) axis.place = key->place;
  for (const Node* item : table.items("values")) axis.values.push_back(as_set(*item, problems));
  for (const auto& [name, end] : {std::pair("from", &axis.from), std::pair("to", &axis.to)})
    if (const Node* node = table.find(name)) *end = as_set(*node, problems);
  axis.steps = table.maybe_integer("steps");
  const std::vector<std::string> scales{"linear", "ratio"};
  axis.by_ratio = table.word("scale", scales, false) == scales[1];
  axis.spread = table.maybe_text("spread").value_or("");
  table.done();
  return axis;
}

study::DesignAxis read_axis(const WrittenAxis& written, study::DesignKind kind,
                            Problems& problems) {
  study::DesignAxis axis;
  axis.key = written.key;
  axis.spread = written.spread;
  const auto complain = [&](std::string what, std::string hint = {}) {
    problems.add(written.place, written.key, std::move(what), std::move(hint));
  };
  const bool range = !written.from.empty() || !written.to.empty();
  const bool random = kind == study::DesignKind::quasi_random;
  if (range == !written.values.empty()) {
    complain(
        range ? "has values and a range; expected one of them" : "has neither values nor a range",
        std::string(forms));
    return axis;
  }
  if (std::ranges::any_of(written.values, &std::string::empty))
    complain("has an empty value", std::string(forms));
  if (random && (!range || written.steps)) {
    complain("expected a range without steps: the points of a quasi-random design fill it",
             "KEY=A to B, by ratio if you say so");
    return axis;
  }
  if (!range) {
    axis.values = written.values;
    lend_unit(axis);
    return axis;
  }
  read_ends(written, axis, problems);
  constexpr long long most = 1'000'000;
  if (!random && (!written.steps || *written.steps > most)) {
    complain(written.steps ? fmt::format("read {} steps; at most {}", *written.steps, most)
                           : "has a range without steps",
             std::string(forms));
    return axis;
  }
  try {
    const auto steps = static_cast<std::size_t>(random ? 2 : std::max(0LL, *written.steps));
    study::check_range(axis.from, axis.to, steps, axis.by_ratio);
    if (!random) axis.steps = steps;
  } catch (const std::invalid_argument& error) {
    complain(error.what());
  }
  return axis;
}

}  // namespace ohmdrag::input
