#include "rig/friction_forms.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/contact/friction.hpp"

namespace ohmdrag::rig {

namespace {

constexpr auto constant_law = "constant", ptfe_law = "ptfe", film_law = "mixed-film";
/// Between them the load passes from the solid contact to the film, whatever the lip; the search
/// starts once from each.
const std::vector<double> transition_starts{3e-6, 2e-5, 1.5e-4};
constexpr double highest_transition = 1.0, highest_exponent = 3.0;

FrictionForm constant_form(double mean_friction) {
  FrictionForm form{constant_law, "constant coefficient", {}, {}, false, {}};
  form.parameters = {{"friction", "friction coefficient", true, {mean_friction}}};
  form.friction = [](std::span<const double> at, const FrictionState&, std::span<double> slopes) {
    slopes[0] = 1.0;
    return at[0];
  };
  return form;
}

double ptfe_at(contact::PtfeFriction law, Length width, const FrictionState& state) {
  return contact::ptfe_friction(law, LineForce::from_value(state.line_force_N_m) / width,
                                Speed::from_value(state.speed_m_s))
      .coefficient;
}

std::pair<std::string, double> held_pressure(const contact::PtfeFriction& law) {
  return {"least_pressure", law.least_pressure.value()};
}

FrictionForm ptfe_level(const contact::PtfeFriction& law, Length width) {
  FrictionForm form{ptfe_law, "dry PTFE, level alone", {}, {}, false, {}};
  form.parameters = {{"filled_factor", "factor of the fillers", true, {1.0}}};
  form.held = {{"slow_coefficient", law.slow_coefficient},
               {"middle_coefficient", law.middle_coefficient},
               {"fast_coefficient", law.fast_coefficient},
               held_pressure(law)};
  contact::PtfeFriction unfilled = law;
  unfilled.filled_factor = 1.0;
  form.friction = [unfilled, width](std::span<const double> at, const FrictionState& state,
                                    std::span<double> slopes) {
    slopes[0] = ptfe_at(unfilled, width, state);
    return at[0] * slopes[0];
  };
  return form;
}

/// The law is linear in its three coefficients: their shares follow from it with one doubled.
FrictionForm ptfe_form(const contact::PtfeFriction& law, Length width) {
  FrictionForm form{ptfe_law, "dry PTFE over speed", {}, {}, false, {}};
  form.parameters = {{"slow_coefficient", "C up to 0.01 m/s", true, {law.slow_coefficient}},
                     {"middle_coefficient", "C at 0.05 m/s", true, {law.middle_coefficient}},
                     {"fast_coefficient", "C from 0.5 m/s", true, {law.fast_coefficient}}};
  form.held = {{"filled_factor", 1.0}, held_pressure(law)};
  const contact::PtfeFriction equal{1.0, 1.0, 1.0, 1.0, law.least_pressure};
  form.friction = [equal, width](std::span<const double> at, const FrictionState& state,
                                 std::span<double> slopes) {
    constexpr double contact::PtfeFriction::*coefficients[] = {
        &contact::PtfeFriction::slow_coefficient, &contact::PtfeFriction::middle_coefficient,
        &contact::PtfeFriction::fast_coefficient};
    const double all = ptfe_at(equal, width, state);
    double friction = 0.0;
    for (std::size_t j = 0; j < 3; ++j) {
      contact::PtfeFriction doubled = equal;
      doubled.*coefficients[j] = 2.0;
      slopes[j] = ptfe_at(doubled, width, state) - all;
      friction += at[j] * slopes[j];
    }
    return friction;
  };
  return form;
}

double duty_of(const FrictionState& state) {
  return state.viscosity_Pa_s * state.speed_m_s / state.line_force_N_m;
}

double unit_film(const FrictionState& state, Length width) {
  return std::cbrt(duty_of(state) * (width / contact::film_reference_width).value());
}

FormParameter film_coefficient() { return {"film_coefficient", "film coefficient", true, {5.0}}; }

FrictionForm film_alone(Length width) {
  FrictionForm form{film_law, "full film alone", {}, {}, true, {}};
  form.parameters = {film_coefficient()};
  form.friction = [width](std::span<const double> at, const FrictionState& state,
                          std::span<double> slopes) {
    slopes[0] = unit_film(state, width);
    return at[0] * slopes[0];
  };
  return form;
}

/// Boundary friction, film coefficient, transition and, where none is held, the exponent.
FrictionForm mixed_form(Length width, double mean_friction, std::optional<double> exponent) {
  FrictionForm form{film_law, exponent ? "mixed film" : "mixed film, exponent free", {}, {}, true,
                    {}};
  form.parameters = {
      {"boundary_friction", "boundary friction", true, {1.5 * mean_friction}},
      film_coefficient(),
      {"transition_duty", "duty of the transition", false, transition_starts, highest_transition}};
  if (exponent)
    form.held = {{"load_share_exponent", *exponent}};
  else
    form.parameters.push_back(
        {"load_share_exponent", "exponent of the load share", false, {0.5}, highest_exponent});
  form.friction = [width, exponent](std::span<const double> at, const FrictionState& state,
                                    std::span<double> slopes) {
    const double m = exponent ? *exponent : at[3], duty = duty_of(state);
    const contact::MixedFilm film{at[0], at[1], at[2], m, width};
    const double x = std::pow(duty / at[2], m), share = std::exp(-x);
    const auto [friction, unused, film_friction] = contact::mixed_film_point(film, duty);
    slopes[0] = share;
    slopes[1] = (1.0 - share) * unit_film(state, width);
    slopes[2] = (at[0] - film_friction) * share * m * x / at[2];
    if (!exponent)
      slopes[3] = duty > 0.0 ? (film_friction - at[0]) * share * x * std::log(duty / at[2]) : 0.0;
    return friction;
  };
  return form;
}

/// What a film lacks; empty: nothing.
std::string film_lacks(const FrictionRun& run) {
  if (!run.oil) return "it runs dry";
  if (!run.contact_width) return "no contact_width is stated";
  if (!run.load_share_exponent) return "no load_share_exponent is stated";
  for (const FrictionPoint& point : run.points)
    if (!point.temperature) return "no temperature was logged, so the viscosity is not known";
  return {};
}

std::string ptfe_lacks(const FrictionRun& run) {
  if (run.oil) return "it runs in oil";
  if (!run.contact_width) return "no contact_width is stated";
  if (!run.ptfe) return "no shape of it over speed is stated";
  return {};
}

void append(std::vector<FrictionForm>& forms, std::vector<FrictionForm> more) {
  for (FrictionForm& form : more) forms.push_back(std::move(form));
}

}  // namespace

std::vector<FrictionForm> friction_forms(const FrictionRun& run, double mean_friction,
                                         std::vector<std::string>& notes) {
  struct Law {
    std::string word, name, lacks;
    std::vector<FrictionForm> forms;
  };
  std::vector<Law> laws{{constant_law, "a constant coefficient", {}, {}},
                        {ptfe_law, "the law of dry PTFE", ptfe_lacks(run), {}},
                        {film_law, "a mixed film", film_lacks(run), {}}};
  laws[0].forms = {constant_form(mean_friction)};
  if (laws[1].lacks.empty())
    laws[1].forms = {ptfe_form(*run.ptfe, *run.contact_width),
                     ptfe_level(*run.ptfe, *run.contact_width)};
  if (laws[2].lacks.empty())
    laws[2].forms = {mixed_form(*run.contact_width, mean_friction, run.load_share_exponent),
                     film_alone(*run.contact_width),
                     mixed_form(*run.contact_width, mean_friction, {})};

  const auto named = std::ranges::find(laws, run.law, &Law::word);
  if (named == laws.end())
    throw std::invalid_argument(fmt::format("there is no friction law \"{}\"", run.law));
  if (!named->lacks.empty())
    throw std::invalid_argument(fmt::format("the run names {}, but {}", named->name, named->lacks));
  std::rotate(laws.begin(), named, named + 1);
  std::vector<FrictionForm> forms;
  for (Law& law : laws) {
    if (!law.lacks.empty() && law.lacks.rfind("it runs", 0) != 0)
      notes.push_back(fmt::format("Not compared: {}, for {}.", law.name, law.lacks));
    append(forms, std::move(law.forms));
  }
  return forms;
}

}  // namespace ohmdrag::rig
