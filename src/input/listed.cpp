#include "input/listed.hpp"

#include <fmt/format.h>

#include <array>
#include <map>
#include <optional>
#include <utility>

#include "input/element_reader.hpp"
#include "input/machine_reader.hpp"
#include "input/material_reader.hpp"
#include "ohmdrag/study/material_members.hpp"
#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::input {

namespace {

/// The numbers of an entry as its reader understood them, by their keys.
class Numbers {
 public:
  void operator()(const UncertainNumber& number) {
    by_key_.emplace(number.key, checked_value(number));
  }
  template <class Q>
  void operator()(const std::optional<Uncertain<Q>>& number) {
    if (number) (*this)(*number);
  }
  /// What for_each_member or for_each_number knows.
  template <class T>
  void members_of(const T& thing) {
    study::for_each_member(thing, [this](const char*, const auto& member) { (*this)(member); });
  }
  template <class T>
  void all_of(const T& thing) {
    study::for_each_number(thing, [this](const UncertainNumber& number) { (*this)(number); });
  }

  const CheckedValue* find(const std::string& key) const {
    const auto found = by_key_.find(key);
    return found == by_key_.end() ? nullptr : &found->second;
  }

 private:
  std::map<std::string, CheckedValue> by_key_;
};

// One function a section, all of the same shape.

void steel_numbers(ReadContext& context, const Node& entry, Numbers& out) {
  TableReader table{context, &entry, "steel"};
  out(table.number<ThermalConductivity>("conductivity"));
  out(table.number<Pressure>("young_modulus"));
  out(table.number<double>("poisson"));
  out(table.number<Density>("density"));
  out(table.number<SpecificHeat>("specific_heat"));
  table.done();
}

void band_numbers(ReadContext& context, const Node& entry, Numbers& out) {
  TableReader table{context, &entry, "band"};
  out(table.number<Frequency>("from"));
  out(table.number<Frequency>("to"));
}

void density_numbers(ReadContext& context, const Node& entry, Numbers& out) {
  TableReader table{context, &entry, "current_density"};
  if (table.has("from")) out(table.number<CurrentDensity>("from"));
  out(table.number<CurrentDensity>("up_to"));
}

void law_numbers(ReadContext& context, const Node& entry, Numbers& out) {
  if (entry.key != "current-density") return;
  TableReader table{context, &entry, "law"};
  study::DamageLaw law;
  law.kind = study::LawKind::current_density;
  read_current_density(table, nullptr, law);
  out.all_of(law);
}

/// A Fit keeps plain lengths; their texts and basis are read once more.
void fit_numbers(ReadContext& context, const Node& entry, Numbers& out) {
  read_fit(context, entry);
  TableReader table{context, &entry, "fit"};
  for (TableReader& band : table.tables("bands"))
    for (const char* key : {"above", "up_to", "lower_deviation", "upper_deviation"})
      out(band.number<Length>(key));
}

template <auto read>
void visited(ReadContext& context, const Node& entry, Numbers& out) {
  out.all_of(read(context, entry, nullptr));
}

template <auto read>
void members(ReadContext& context, const Node& entry, Numbers& out) {
  out.members_of(read(context, entry, nullptr));
}

struct Section {
  std::string_view name;
  void (*read)(ReadContext&, const Node&, Numbers&);
};
constexpr std::array sections{
    Section{"lubricant", visited<read_lubricant>},
    Section{"contact", visited<read_element>},
    Section{"rule", visited<read_element>},
    Section{"bearing_type", visited<read_bearing_type>},
    Section{"law", law_numbers},
    Section{"band", band_numbers},
    Section{"current_density", density_numbers},
    Section{"fit", fit_numbers},
    Section{"steel", steel_numbers},
    Section{"seal_material", members<read_seal_limits>},
    Section{"lip_speed_chart", members<read_lip_speed_chart>},
    Section{"graphite_transition", members<read_graphite_transition>},
    Section{"modulus_over_temperature", members<read_modulus>},
    Section{"relaxation", members<read_relaxation>},
    Section{"lip_form", members<read_lip_form>},
    Section{"wear", members<read_wear>},
    Section{"machine_size", members<read_machine_size>},
    Section{"cleanliness", members<read_cleanliness_class>},
};

/// Walks the table of an entry.
class Listing {
 public:
  Listing(ListedEntry& into, const Numbers& numbers) : into_(into), numbers_(numbers) {}

  void children(const Node& table, const std::string& prefix) {
    for (const Node& child : table.children) {
      if (child.holds_for_its_table()) continue;
      if (prefix.empty() && (child.key == "title" || child.key == "id")) continue;
      value(child, prefix + child.key);
    }
  }

 private:
  void value(const Node& node, const std::string& name) {
    if (node.is_table() && !node.is_value_table()) return children(node, name + '.');
    if (node.is_array()) {
      std::size_t place = 0;
      for (const Node& member : node.children) {
        ++place;
        const std::string_view id = id_of(member);
        value(member, fmt::format("{}.{}", name, id.empty() ? std::to_string(place) : id));
      }
      return;
    }
    ListedValue out;
    out.name = name;
    out.key = node.origin;
    if (const CheckedValue* number = numbers_.find(node.origin)) {
      out.number = *number;
      out.text = number->read_as;
    } else {
      const Node* stated = node.is_table() ? node.find("value") : &node;
      out.text = stated->is_text() ? stated->text : stated->as_typed();
    }
    into_.values.push_back(std::move(out));
  }

  ListedEntry& into_;
  const Numbers& numbers_;
};

}  // namespace

ListedEntry listed_entry(ReadContext& context, std::string_view section, const Node& entry,
                         std::string id) {
  Numbers numbers;
  for (const Section& known : sections)
    if (known.name == section) known.read(context, entry, numbers);
  ListedEntry out;
  out.id = std::move(id);
  out.key = entry.origin;
  if (const Node* title = entry.find("title"); title && title->is_text()) out.title = title->text;
  out.basis = basis_from_word(entry.basis);
  out.source = entry.source;
  Listing{out, numbers}.children(entry, {});
  return out;
}

}  // namespace ohmdrag::input
