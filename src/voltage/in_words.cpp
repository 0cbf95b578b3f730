#include "ohmdrag/voltage/in_words.hpp"

#include <fmt/format.h>

#include <complex>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::voltage {

namespace {

// They choose words and move no number.
constexpr double standing_share_of_crest = 0.1;
constexpr double removed_dB = -20.0;

std::string volts(Voltage v) { return print_quantity(v.value(), Dimension::voltage, 2); }
std::string hertz(Frequency f) { return print_quantity(f.value(), Dimension::frequency, 2); }

/// Whether the films make more of the impedance than all the rest at a frequency.
bool films_prevail(const GroundingPath& path, Frequency frequency) {
  if (path.films.empty()) return false;
  GroundingPath bare = path;
  bare.across = {};
  const std::complex<double> whole_ohm = impedance_ohm(bare, frequency);
  bare.films.clear();
  const std::complex<double> rest_ohm = impedance_ohm(bare, frequency);
  return std::abs(whole_ohm - rest_ohm) > std::abs(rest_ohm);
}

/// Which part of the path sets what is left, and what therefore does not help.
std::string what_sets_it(const GroundingPath& path, Frequency oscillation) {
  std::string words;
  // Far above the oscillation of any inverter edge the sentence would say nothing.
  constexpr Frequency worth_saying = Frequency::from_value(1e8);
  if (films_prevail(path, oscillation))
    words += fmt::format(" At {} a film of the contact, not the force, sets what is left.",
                         hertz(oscillation));
  if (const auto corner = inductive_corner(path); corner && *corner < worth_saying) {
    words += fmt::format(" Above {} the inductance of the path, not the contact, sets what is left",
                         hertz(*corner));
    words += *corner < oscillation
                 ? fmt::format(": at {} more force buys nothing here.", hertz(oscillation))
                 : std::string{"."};
  }
  if (!path.films.empty())
    words +=
        " A film punctures above some tenths of a volt: an impedance measured at another level or "
        "at rest may differ.";
  return words;
}

}  // namespace

Effect effect(const ShaftNode& node, const MaybePath& path, const Carrier& carrier,
              Frequency oscillation) {
  if (!path) return Effect::no_path;
  const Voltage crest = crest_voltage(node, carrier.dc_link);
  if (held_voltage(node, path, carrier) >= standing_share_of_crest * crest)
    return Effect::leaves_standing;
  return attenuation_dB(node, path, oscillation) <= removed_dB ? Effect::removes_both
                                                               : Effect::leaves_spikes;
}

std::string effect_in_words(const ShaftNode& node, const MaybePath& path, const Carrier& carrier,
                            Frequency oscillation) {
  const std::string held = fmt::format("{} ({} after a discharge, which moves its zero)",
                                       volts(held_voltage(node, path, carrier)),
                                       volts(held_after_discharge(node, path, carrier)));
  if (!path)
    return fmt::format(
        "Nothing connects the shaft to the housing: up to {} stands on it between the edges.",
        held);

  const double left_dB = attenuation_dB(node, path, oscillation);
  std::string words;
  switch (effect(node, path, carrier, oscillation)) {
    case Effect::leaves_standing:
      words = fmt::format(
          "It leaves up to {} standing on the shaft between the edges and passes each edge in "
          "whole or in part.",
          held);
      break;
    case Effect::leaves_spikes:
      words = fmt::format(
          "It leaves no voltage standing between the edges, only spikes at the edges and the "
          "oscillation ({:+.1f} dB at {}).",
          left_dB, hertz(oscillation));
      break;
    default:
      words = fmt::format(
          "It leaves no voltage standing between the edges and removes the oscillation too "
          "({:+.1f} dB at {}); spikes set by the path's inductance remain.",
          left_dB, hertz(oscillation));
  }
  return words + what_sets_it(*path, oscillation);
}

}  // namespace ohmdrag::voltage
