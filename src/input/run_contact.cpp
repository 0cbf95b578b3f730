#include "input/run_contact.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ohmdrag::input {

namespace {

bool can_be_a_key(const std::string& id) {
  return !id.empty() && std::ranges::all_of(id, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  });
}

const study::FrictionEntry* law_of(const study::Element& element) {
  if (const auto* lip = std::get_if<study::LipElement>(&element.form)) return &lip->law;
  if (const auto* ring = std::get_if<study::RingElement>(&element.form)) return &ring->law;
  if (const auto* brush = std::get_if<study::BrushElement>(&element.form)) return &brush->law;
  return nullptr;
}

}  // namespace

RunContact contact_of_run(RunReading& reading, const Catalogue& catalogue) {
  RunContact contact{reading.run.text("contact"), {}};
  if (!reading.run.has("contact")) return contact;
  if (!can_be_a_key(contact.id))
    reading.run.complain("contact", fmt::format("read \"{}\"; expected the name of an entry, of "
                                                "letters, digits and dashes",
                                                contact.id));
  const auto ids = catalogue.ids("contacts");
  if (std::ranges::find(ids, contact.id) != ids.end())
    contact.entry = catalogue.element(contact.id);
  return contact;
}

std::optional<Length> contact_width_of(const RunContact& contact) {
  if (!contact.entry) return std::nullopt;
  const auto& form = contact.entry->form;
  if (const auto* lip = std::get_if<study::LipElement>(&form)) return lip->contact_width.nominal();
  if (const auto* ring = std::get_if<study::RingElement>(&form))
    return ring->contact_width.nominal();
  if (const auto* brush = std::get_if<study::BrushElement>(&form))
    return brush->contact_width.nominal();
  return std::nullopt;
}

std::optional<contact::PtfeFriction> ptfe_of(const study::Element& element) {
  const study::FrictionEntry* law = law_of(element);
  const auto* ptfe = law ? std::get_if<study::PtfeFrictionEntry>(law) : nullptr;
  if (!ptfe) return std::nullopt;
  return contact::PtfeFriction{ptfe->slow_coefficient.nominal(), ptfe->middle_coefficient.nominal(),
                               ptfe->fast_coefficient.nominal(), ptfe->filled_factor.nominal(),
                               ptfe->least_pressure.nominal()};
}

std::optional<double> load_share_exponent_of(const study::Element& element) {
  const study::FrictionEntry* law = law_of(element);
  const auto* film = law ? std::get_if<study::MixedFilmEntry>(law) : nullptr;
  if (!film) return std::nullopt;
  return film->load_share_exponent.nominal();
}

int elements_of_run(RunReading& reading) {
  const auto stated = reading.run.maybe_integer("elements");
  if (stated && *stated != 1 && *stated != 2) {
    reading.run.complain("elements",
                         fmt::format("read {}; expected 1, or 2 on one shaft", *stated));
    return 1;
  }
  return static_cast<int>(stated.value_or(1));
}

}  // namespace ohmdrag::input
