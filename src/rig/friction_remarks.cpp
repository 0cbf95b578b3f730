#include "rig/friction_remarks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double most_far_off = 0.2;
/// AICc may move by so many standard deviations of what the tare does to it.
constexpr double doubt_in_deviations = 2.0;
/// Beyond, the mean of up and down hides how the contact came there; common practice, no source.
constexpr double wide_gap = 0.1;

std::string percent(double share) { return print_number(100.0 * share, 2) + " %"; }

class Remarks {
 public:
  Remarks(const FrictionRun& run, const FrictionProblem& problem, const FormChoice& choice,
          FrictionFit& fit)
      : run_(run), problem_(problem), choice_(choice), fit_(fit) {}

  void add() {
    on_rivals();
    on_what_is_not_told();
    on_far_off();
    on_run_in();
    on_sweeps();
    on_specimens();
    on_form();
    on_torque();
  }

 private:
  const TriedForm& chosen() const { return choice_.tried[choice_.chosen]; }

  /// Largest difference of the friction of two forms over the readings, over the first.
  double apart(const TriedForm& one, const TriedForm& other) const {
    std::vector<double> unused(8);
    double largest = 0.0;
    for (const FrictionDatum& datum : problem_.data()) {
      const double a = one.form->friction(one.fit.parameter, datum.state, unused);
      const double b = other.form->friction(other.fit.parameter, datum.state, unused);
      largest = std::max(largest, std::abs(b / a - 1.0));
    }
    return largest;
  }

  void on_rivals() {
    if (choice_.tried.size() == 1) {
      fit_.warnings.push_back(fmt::format(
          "Nothing was held against the law \"{}\": the run tells no other one that applies.",
          chosen().form->title));
      return;
    }
    for (const TriedForm& other : choice_.tried) {
      if (other.form->law == chosen().form->law) continue;
      const double ahead = chosen().above_least - other.above_least;
      const double doubt = doubt_in_deviations * other.doubt;
      if (std::abs(ahead) < alike + doubt)
        fit_.warnings.push_back(fmt::format(
            "The run cannot tell \"{}\" from \"{}\" (AICc differs by {:.1f}{}). Over its "
            "readings they are within {} of each other; beyond them either may be wrong. {}",
            chosen().form->title, other.form->title, std::abs(ahead),
            doubt >= 0.1 ? fmt::format(", and the tare may move that by {:.1f}", doubt) : "",
            percent(apart(chosen(), other)),
            doubt > alike ? "Read the tare better, and more lower and higher speeds."
                          : "More readings at lower and higher speeds would tell."));
      else if (ahead > 0.0 && other.above_least == 0.0)
        fit_.warnings.push_back(fmt::format(
            "\"{}\" fits the run better than the named law, \"{}\" (AICc by {:.1f}{}). Over the "
            "readings they differ by up to {}.",
            other.form->title, chosen().form->title, ahead,
            ahead > no_support ? "; the named one has essentially no support" : "",
            percent(apart(chosen(), other))));
    }
  }

  void on_what_is_not_told() {
    for (const LawParameter& parameter : fit_.parameters)
      if (!parameter.value)
        fit_.notes.push_back(fmt::format(
            "The run does not tell the {}: its interval is wider than half of it either way. {}",
            parameter.name,
            parameter.key == "film_coefficient" ? "Run faster or with colder oil."
                                                : "Run slower, down to some 0.05 m/s."));
    if (fit_.law == "mixed-film" && fit_.parameters.size() == 1)
      fit_.notes.emplace_back(
          "The run tells the full film alone, nothing of boundary friction and transition: those "
          "of the entry stay. Run slower, down to some 0.05 m/s, to tell them.");
    if (fit_.law == "ptfe" && fit_.parameters.size() == 1)
      fit_.notes.emplace_back(
          "The run tells the level of the law alone; its shape over speed is the stated one. "
          "Readings at 0.01, 0.05 and 0.5 m/s would tell the shape.");
    if (fit_.curve.size() == 1)
      fit_.warnings.emplace_back(
          "The run holds one speed: the coefficient is that of this speed, and no law over speed "
          "was told from another.");
  }

  void on_far_off() {
    const std::size_t far = choice_.far_off.size();
    if (far == 0) return;
    std::string where;
    for (std::size_t k = 0; k < std::min<std::size_t>(far, 4); ++k) {
      const FrictionPoint& point = run_.points[problem_.data()[choice_.far_off[k]].point];
      where += fmt::format("{}{} 1/min", k > 0 ? ", " : "",
                           print_number(std::abs(in_rpm(point.speed)), 4));
    }
    if (far > 4) where += " and others";
    fit_.notes.push_back(
        fmt::format("{} of {} readings lie far off ({}). They count less, none is left out of the "
                    "fit; laws are compared without them.",
                    far, problem_.data().size(), where));
    if (static_cast<double>(far) > most_far_off * static_cast<double>(problem_.data().size()))
      fit_.warnings.push_back(fmt::format(
          "{} of the readings lie far off the law: something beside speed and temperature changes "
          "the friction, or two states of the contact are mixed in the run.",
          percent(static_cast<double>(far) / static_cast<double>(problem_.data().size()))));
  }

  void on_run_in() {
    if (!fit_.run_in) return;
    const FrictionFit::RunIn& run_in = *fit_.run_in;
    if (run_in.left_out > 0) {
      fit_.notes.push_back(fmt::format(
          "The specimen ran in over {} h ({} above its level at the begin): {} readings before {} "
          "h were left out, where its excess falls to 1 %.",
          print_number(run_in.time.value.value() / 3600.0, 2), percent(run_in.rise.value),
          run_in.left_out, print_number(run_in.ended.value() / 3600.0, 2)));
      return;
    }
    fit_.warnings.push_back(fmt::format(
        "The specimen was still running in when the run ended (it would take until {} h). The "
        "level is an extrapolation of its decay; let it run longer before measuring.",
        print_number(run_in.ended.value() / 3600.0, 2)));
  }

  void on_sweeps() {
    if (!fit_.hysteresis) return;
    const Estimate<double>& gap = *fit_.hysteresis;
    if (std::abs(gap.value) <= gap.half_width) {
      fit_.notes.push_back(fmt::format("Up and down the speeds the torque agrees within {}.",
                                       percent(std::abs(gap.value) + gap.half_width)));
      return;
    }
    std::string text = fmt::format(
        "Up the speeds the torque is {} {} than down. The law is that of their mean; half the gap "
        "counts as uncertainty.",
        percent(std::abs(gap.value)), gap.value > 0.0 ? "higher" : "lower");
    if (std::abs(gap.value) > wide_gap)
      fit_.warnings.push_back(text + " So wide a gap means that it was not settled: dwell longer.");
    else
      fit_.notes.push_back(std::move(text));
  }

  void on_specimens() {
    const std::size_t n = fit_.specimens.size();
    if (n == 0) {
      if (run_.elements == 1)
        fit_.notes.emplace_back(
            "One specimen tells no scatter from part to part: run three or more.");
      return;
    }
    if (run_.elements == 2 && !fit_.resolved_pairs && n < 3) return;
    if (fit_.part_scatter && *fit_.part_scatter == 0.0)
      fit_.notes.push_back(
          fmt::format("The {} specimens do not differ beyond the noise of their runs.", n));
    else if (n < 6)
      fit_.notes.push_back(fmt::format(
          "{} specimens tell their scatter within wide bounds only: it may be {} to {} (standard "
          "deviation, 95 %).",
          n, percent(fit_.part_scatter_interval->first),
          percent(fit_.part_scatter_interval->second)));
  }

  void on_form() {
    if (fit_.law == "ptfe")
      fit_.notes.emplace_back(
          "One force tells nothing of how friction falls with pressure: that is the law's own.");
    if (!chosen().form->film) return;
    if (!run_.contact_temperature && !run_.contact_rise)
      fit_.warnings.emplace_back(
          "The law is fitted at the rig's oil temperatures. Friction heats the film above the oil, "
          "so the film coefficient comes out too small, and a case, which does heat it, would "
          "count too little friction. Log the temperature of the contact or state contact_rise.");
    std::size_t outside = 0;
    for (const FrictionDatum& datum : problem_.data())
      if (contact::outside_mixed_film(
              contact::duty_parameter(DynamicViscosity::from_value(datum.state.viscosity_Pa_s),
                                      Speed::from_value(datum.state.speed_m_s),
                                      LineForce::from_value(datum.state.line_force_N_m))))
        ++outside;
    if (outside > 0)
      fit_.notes.push_back(fmt::format(
          "{} of {} readings lie outside the duty parameters of 3e-5 to 2e-3 in which the cube "
          "root of the film is known to hold.",
          outside, problem_.data().size()));
  }

  void on_torque() {
    const bool same = std::ranges::all_of(run_.points, [&](const FrictionPoint& point) {
      return std::abs(point.torque.value()) == std::abs(run_.points.front().torque.value());
    });
    if (same)
      fit_.warnings.emplace_back(
          "The torque reads the same in every line: is the transducer at its end or its display "
          "too coarse?");
  }

  const FrictionRun& run_;
  const FrictionProblem& problem_;
  const FormChoice& choice_;
  FrictionFit& fit_;
};

}  // namespace

void add_friction_remarks(const FrictionRun& run, const FrictionProblem& problem,
                          const FormChoice& choice, FrictionFit& fit) {
  Remarks(run, problem, choice, fit).add();
  add_trend_remarks(problem, fit);
}

}  // namespace ohmdrag::rig
