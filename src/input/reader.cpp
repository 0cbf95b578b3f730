#include "input/reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "input/ranges.hpp"
#include "ohmdrag/quantity/read.hpp"

namespace ohmdrag::input {

namespace {

std::string join(std::span<const std::string_view> keys, std::string_view between) {
  return fmt::format("{}", fmt::join(keys, between));
}

/// "…; expected a force per length (N/m, N/mm, N/cm)" in one line; other hints stay hints.
void fold_units(ReadProblem& problem) {
  constexpr std::string_view lead = "accepted units: ";
  if (!problem.hint.starts_with(lead) || problem.what.find("; expected ") == std::string::npos)
    return;
  problem.what += " (" + problem.hint.substr(lead.size()) + ')';
  problem.hint.clear();
}

}  // namespace

TableReader::TableReader(ReadContext& context, const Node* table, std::string generic)
    : context_(&context),
      table_(table && table->is_table() ? table : nullptr),
      generic_(std::move(generic)),
      path_(table_ ? table_->origin : generic_) {
  if (table && !table_)
    context.problems.add(table->place, table->origin,
                         fmt::format("read {}; expected a table", table->as_typed()));
}

std::string TableReader::key_path(std::string_view key) const {
  if (const Node* child = table_ ? table_->find(key) : nullptr; child && !child->origin.empty())
    return child->origin;
  return path_.empty() ? std::string{key} : path_ + '.' + std::string{key};
}

const Node* TableReader::find(std::string_view key) {
  if (std::ranges::find(asked_, key) == asked_.end()) asked_.emplace_back(key);
  return table_ ? table_->find(key) : nullptr;
}

std::string_view TableReader::exactly_one(std::span<const std::string_view> keys, bool required) {
  std::vector<std::string_view> there;
  for (const std::string_view key : keys)
    if (has(key)) there.push_back(key);
  if (there.size() > 1)
    complain(there.back(), fmt::format("read {}; expected exactly one of {}", join(there, " and "),
                                       join(keys, ", ")));
  if (there.empty() && required)
    complain({}, fmt::format("expected exactly one of {}; found none", join(keys, ", ")));
  return there.empty() ? std::string_view{} : there.front();
}

void TableReader::complain(std::string_view key, std::string what, std::string hint) {
  const Node* child = table_ && !key.empty() ? table_->find(key) : nullptr;
  const Place place = child ? child->place : (table_ ? table_->place : Place{});
  context_->problems.add(place, key.empty() ? path_ : key_path(key), std::move(what),
                         std::move(hint));
}

void TableReader::missing(std::string_view key, std::string_view what) {
  complain(key, fmt::format("missing; expected {}", what));
}

bool TableReader::read_number(std::string_view key, const Node* fallback, bool required,
                              UncertainNumber& out) {
  const Node* node = find(key);
  if (!node) node = fallback;
  const std::string generic = generic_ + '.' + std::string{key};
  if (!node) {
    if (required && table_) {
      const DimensionRow& row = row_of(out.dimension);
      const bool bare = out.dimension == Dimension::ratio;
      complain(key, fmt::format("missing; expected {}", row.with_article),
               bare ? fmt::format("write {} = <number>", key)
                    : fmt::format("write {} = \"<number> <unit>\"; {}", key,
                                  accepted_units(out.dimension)));
    }
    out.key = key_path(key);
    out.spread.mid = 1.0;
    return false;
  }
  read_node(*node, generic, fallback, out);
  return true;
}

std::optional<Uncertain<double>> TableReader::maybe_number_of(std::string_view key,
                                                              Dimension dimension) {
  Uncertain<double> out;
  out.dimension = dimension;
  if (!read_number(key, nullptr, false, out)) return std::nullopt;
  return out;
}

void TableReader::read_node(const Node& node, const std::string& generic, const Node* fallback,
                            UncertainNumber& out) {
  out.key = node.origin;
  const bool stated = !node.basis.empty();
  out.basis = stated ? basis_from_word(node.basis).value_or(Basis::assumed) : Basis::assumed;
  out.source = !node.source.empty() ? node.source : (stated ? "" : "no basis given");
  out.share = share_from_word(node.share).value_or(Share::customer);
  const Node* value = node.is_table() ? node.find("value") : &node;
  if (value && value->is_text() && value->text == "unknown") {
    stand_in(node, generic, fallback, out);
  } else if (node.is_table()) {
    read_value_table(node, node.origin, out);
  } else if (!read_value(node, node.origin, out)) {
    out.spread = Distribution{};
    out.spread.mid = 1.0;
    return;
  }
  check_range(node, generic, node.origin, out);
}

bool TableReader::read_value(const Node& node, const std::string& key, UncertainNumber& out) {
  const DimensionRow& row = row_of(out.dimension);
  if (node.is_number()) {
    const double plain = node.as_real();
    if (out.dimension != Dimension::ratio) {
      context_->problems.add(
          node.place, key,
          fmt::format("read {}: {} needs a unit", node.as_typed(), row.with_article),
          accepted_units(out.dimension));
      return false;
    }
    if (!std::isfinite(plain)) {
      context_->problems.add(node.place, key,
                             fmt::format("read {}; expected a finite number", node.as_typed()));
      return false;
    }
    out.spread.mid = plain;
    out.read_as = node.as_typed();
    return true;
  }
  if (!node.is_text()) {
    context_->problems.add(node.place, key,
                           fmt::format("read {}; expected {}, as text with its unit",
                                       node.as_typed(), row.with_article));
    return false;
  }
  auto read = read_quantity(node.text, out.dimension);
  if (auto* problem = std::get_if<ReadProblem>(&read)) {
    fold_units(*problem);
    context_->problems.add(node.place, key, problem->what, problem->hint);
    return false;
  }
  out.spread = std::get<Distribution>(read);
  out.read_as = node.text;
  return true;
}

void TableReader::read_value_table(const Node& node, const std::string& key, UncertainNumber& out) {
  TableReader inner{*context_, &node, generic_};
  for (const char* known : {"value", "spread", "scatter", "within", "basis", "source", "share"})
    inner.find(known);
  inner.done();
  const Node* value = node.find("value");
  if (!value) {
    context_->problems.add(
        node.place, key,
        "read a table without a value; expected { value = \"…\", spread = \"…\", "
        "within = \"…\", scatter = \"…\", basis = \"…\", source = \"…\" }");
    out.spread.mid = 1.0;
    return;
  }
  if (!read_value(*value, key, out)) {
    out.spread.mid = 1.0;
    return;
  }
  const auto width = [&](const char* name, Distribution& into, const auto& read_into) {
    const Node* text = node.find(name);
    if (!text) return;
    if (!text->is_text()) {
      context_->problems.add(
          text->place, text->origin,
          fmt::format("read {}; expected text such as \"± 10 %\"", text->as_typed()));
      return;
    }
    auto read = read_into(text->text);
    if (auto* problem = std::get_if<ReadProblem>(&read)) {
      fold_units(*problem);
      context_->problems.add(text->place, text->origin, problem->what, problem->hint);
      return;
    }
    into = std::get<Distribution>(read);
    out.read_as += fmt::format(", {} {}", name, text->text);
  };
  const double value_mid = out.spread.mid;
  const auto around_value = [&](const std::string& text) {
    return read_spread(text, out.dimension, value_mid);
  };
  if (node.find("spread") && out.spread.shape != Shape::exact)
    context_->problems.add(node.find("spread")->place, node.find("spread")->origin,
                           fmt::format("read {} beside a value that has a spread already; "
                                       "expected one of the two",
                                       node.find("spread")->as_typed()));
  else
    width("spread", out.spread, around_value);
  width("within", out.spread,
        [&](const std::string& text) { return read_within(text, out.dimension, out.spread); });
  width("scatter", out.scatter, around_value);
  if (out.scatter.lean != 0.0)
    context_->problems.add(node.find("scatter")->place, node.find("scatter")->origin,
                           fmt::format("read {}; scatter from part to part leans to neither side",
                                       node.find("scatter")->as_typed()),
                           "write the middle of the parts as the value");
  // Part to part lies around the spread's draw, whatever that is.
  out.scatter.mid = out.scatter.shape == Shape::log_normal ? 1.0 : 0.0;
}

void TableReader::stand_in(const Node& node, const std::string& generic, const Node* fallback,
                           UncertainNumber& out) {
  const Node* range = context_->trade_range ? context_->trade_range(generic) : nullptr;
  if (!range && fallback != &node) range = fallback;
  const Node* value = range && range->is_value_table() ? range->find("value") : range;
  if (!value || !read_value(*value, node.origin, out)) {
    if (!value)
      context_->problems.add(node.place, node.origin,
                             "read \"unknown\", but there is no range of the trade for this key",
                             "give a range you would bet on, \"low … high\", with basis = "
                             "\"assumed\"");
    out.spread.mid = 1.0;
    return;
  }
  out.unknown = true;
  out.basis = Basis::unverified;
  out.source =
      range->source.empty() ? "range of the trade" : "range of the trade: " + range->source;
  out.read_as = "unknown";
}

void TableReader::check_range(const Node& node, const std::string& generic, const std::string& key,
                              UncertainNumber& out) {
  const PhysicalRange range = physical_range(generic, out.dimension);
  if (!range.admits(out.spread.mid)) {
    context_->problems.add(node.place, key,
                           fmt::format("read {}, outside the physical range; expected {}",
                                       node.is_table() ? '"' + out.read_as + '"' : node.as_typed(),
                                       range.in_words(out.dimension)));
    out.spread = Distribution{};
    out.spread.mid = 1.0;
    return;
  }
  out.spread.floor = std::max(out.spread.floor, range.low);
  out.spread.ceiling = std::min(out.spread.ceiling, range.high);
}

std::vector<Length> TableReader::lengths(std::string_view key, std::size_t count) {
  const std::string sizes = text(key);
  const auto wrong = [&] {
    complain(key, fmt::format("read \"{}\"; expected {} lengths with x between them", sizes, count),
             count == 3 ? "for example \"18 mm x 8 mm x 0.4 mm\"" : "for example \"40 mm x 1 mm\"");
    return std::vector<Length>{};
  };
  std::vector<Length> out;
  std::string part;
  const auto take = [&] {
    const auto read = read_quantity(part, Dimension::length);
    const auto* length = std::get_if<Distribution>(&read);
    if (!length || length->shape != Shape::exact || !(length->mid > 0.0)) return false;
    out.push_back(Length::from_value(length->mid));
    part.clear();
    return true;
  };
  constexpr std::string_view cross = "\u00D7";
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const bool is_cross = std::string_view{sizes}.substr(i).starts_with(cross);
    if (sizes[i] != 'x' && !is_cross) {
      part += sizes[i];
      continue;
    }
    if (!take()) return wrong();
    if (is_cross) i += cross.size() - 1;
  }
  if (!take() || out.size() != count) return wrong();
  return out;
}

std::optional<std::string> TableReader::maybe_text(std::string_view key) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  if (!node->is_text()) {
    complain(key, fmt::format("read {}; expected text in quotes", node->as_typed()));
    return std::nullopt;
  }
  return node->text;
}

std::string TableReader::text(std::string_view key) {
  if (!find(key) && table_) missing(key, "text in quotes");
  return maybe_text(key).value_or(std::string{});
}

std::string TableReader::word(std::string_view key, std::span<const std::string> words,
                              bool required) {
  const Node* node = find(key);
  if (!node) {
    if (required && table_) missing(key, fmt::format("one of {}", fmt::join(words, ", ")));
    return words.front();
  }
  if (node->is_text() && std::ranges::find(words, node->text) != words.end()) return node->text;
  complain(key,
           fmt::format("read {}; expected one of {}", node->as_typed(), fmt::join(words, ", ")),
           node->is_text() && !nearest(node->text, words).empty() ? suggestion(node->text, words)
                                                                  : std::string{});
  return words.front();
}

std::vector<std::string> TableReader::texts(std::string_view key) {
  std::vector<std::string> out;
  for (const Node* item : items(key)) {
    if (item->is_text())
      out.push_back(item->text);
    else
      context_->problems.add(item->place, key_path(key),
                             fmt::format("read {}; expected text in quotes", item->as_typed()));
  }
  return out;
}

bool TableReader::flag(std::string_view key, bool otherwise) {
  const Node* node = find(key);
  if (!node) return otherwise;
  if (node->kind == Node::Kind::boolean) return node->boolean;
  complain(key, fmt::format("read {}; expected true or false", node->as_typed()));
  return otherwise;
}

std::optional<double> TableReader::maybe_plain(std::string_view key) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  if (node->is_number() && std::isfinite(node->as_real())) return node->as_real();
  complain(key, fmt::format("read {}; expected a number", node->as_typed()));
  return std::nullopt;
}

std::optional<long long> TableReader::maybe_integer(std::string_view key) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  if (node->kind == Node::Kind::integer) return node->integer;
  complain(key, fmt::format("read {}; expected a whole number", node->as_typed()));
  return std::nullopt;
}

TableReader TableReader::required_table(std::string_view key) {
  if (!find(key) && table_)
    complain(key, fmt::format("missing; expected a table [{}]", key_path(key)));
  return table(key);
}

TableReader TableReader::table(std::string_view key) {
  return {*context_, find(key),
          generic_.empty() ? std::string{key} : generic_ + '.' + std::string{key}};
}

std::vector<TableReader> TableReader::tables(std::string_view key) {
  std::vector<TableReader> out;
  const Node* node = find(key);
  if (!node) return out;
  if (!node->is_array_of_tables()) {
    complain(key,
             fmt::format("read {}; expected tables, each under [[{}]]", node->as_typed(), key));
    return out;
  }
  std::vector<std::string_view> seen;
  for (const Node& member : node->children) {
    const std::string_view id = id_of(member);
    if (!id.empty()) {
      if (std::ranges::find(seen, id) != seen.end())
        context_->problems.add(
            member.find("id")->place, member.origin + ".id",
            fmt::format("read \"{}\", which another [[{}]] has already", id, key));
      seen.push_back(id);
    }
    out.emplace_back(*context_, &member,
                     generic_.empty() ? std::string{key} : generic_ + '.' + std::string{key});
  }
  return out;
}

std::vector<const Node*> TableReader::items(std::string_view key) {
  std::vector<const Node*> out;
  const Node* node = find(key);
  if (!node) return out;
  if (!node->is_array()) return {node};
  for (const Node& item : node->children) out.push_back(&item);
  return out;
}

void TableReader::done() {
  if (!table_) return;
  for (const Node& child : table_->children) {
    if (child.holds_for_its_table()) continue;
    if (std::ranges::find(asked_, child.key) != asked_.end()) continue;
    context_->problems.add_unknown_key(child.key_place.text ? child.key_place : child.place,
                                       child.origin, "there is no such key here",
                                       suggestion(child.key, asked_));
  }
}

}  // namespace ohmdrag::input
