#include "study/explain_service_chain.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>
#include <utility>

namespace ohmdrag::study {

ServiceChain::ServiceChain(const Ensemble& ensemble, std::size_t v, std::string tail, Chain& chain)
    : ensemble_(ensemble),
      question_(*ensemble.question),
      world_(ensemble.world(v)),
      sample_(ensemble.samples[v].front()),
      mix_(service_mix(question_)),
      v_(v),
      tail_(std::move(tail)),
      chain_(chain) {
  if (sample_.duties.empty()) throw std::invalid_argument("the case has no duty");
  for (std::size_t d = 0; d < mix_.share.size(); ++d)
    if (mix_.share[d] > 0.0) duties_.push_back(d);
  stretch_.emplace(ensemble, v, duties_.front(), tail_.empty(), chain);
}

std::string ServiceChain::marched(std::size_t d) {
  if (!question_.duties[d].trips.empty())
    return "march through the measured trips, sample by sample";
  return fmt::format("sum over the {} stretches of the duty, each reckoned as one of them is above",
                     stretch_->count(d));
}

std::string ServiceChain::energy() {
  stretch_->watts();
  std::string expression;
  double sum = 0.0;
  for (const std::size_t d : duties_) {
    const DutySample& duty = sample_.duties[d];
    const std::string share = share_of(d), joules = joules_of(d);
    const std::string id = of(d);
    double per_unit = 0.0;
    std::string line;
    if (mix_.driven) {
      per_unit = battery_Wh_per_km(duty);
      line = chain_.step(fmt::format("e{}{}", id, tail_),
                         fmt::format("{}/3600/({}/1000)", joules, distance_of(d)), per_unit,
                         "Wh/km", "battery energy of the account per way", "definition");
    } else {
      per_unit = mean_W(duty);
      line = chain_.step(fmt::format("Pm{}{}", id, tail_), fmt::format("{}/{}", joules, time_of(d)),
                         per_unit, "W", "mean watts of the account", "definition");
    }
    expression += fmt::format("{}{}*{}", expression.empty() ? "" : " + ", share, line);
    sum += mix_.share[d] * per_unit;
  }
  return chain_.step(fmt::format("{}{}", mix_.driven ? "e_all" : "Pm_all", tail_), expression, sum,
                     mix_.driven ? "Wh/km" : "W", "over the service mix", "mean over the mix");
}

std::string ServiceChain::per_second(const std::string& what, double BearingSample::*member,
                                     std::optional<std::size_t> place, const std::string& unit,
                                     const std::string& meaning) {
  if (member == &BearingSample::dose_J_m2 || member == &BearingSample::striking_s)
    stretch_->strikes(member);
  const std::string name =
      place ? fmt::format("{}_{}{}", what, symbol_of(world_.bearings[*place].id), tail_)
            : fmt::format("{}{}", what, tail_);
  std::string expression;
  double sum = 0.0;
  for (const std::size_t d : duties_) {
    const DutySample& duty = sample_.duties[d];
    double value = 0.0;
    for (std::size_t b = 0; b < duty.bearings.size(); ++b)
      if (!place || *place == b) value += duty.bearings[b].*member;
    const std::string own =
        chain_.taken(name + of(d), value, unit,
                     meaning + ", one passage of " + question_.duties[d].id, marched(d));
    expression += fmt::format("{}{}/{}*{}", expression.empty() ? "" : " + ", share_of(d),
                              mix_.driven ? distance_of(d) : time_of(d), own);
    sum += weight(d) * value;
  }
  const double seconds = seconds_per_unit();
  return chain_.step(name, fmt::format("({})/{}", expression, seconds_), sum / seconds,
                     unit.empty() ? "1/s" : unit + "/s", meaning + ", per second of running",
                     "mean over the mix");
}

std::string ServiceChain::hours(const std::string& what, double BearingSample::*damage,
                                std::size_t b, const std::string& meaning) {
  stretch_->damage(b, damage);
  const std::string rate = per_second(what, damage, b, "", "share of " + meaning);
  return chain_.step(fmt::format("L_{}", rate), fmt::format("1/{}/3600", rate),
                     1.0 / chain_.value(rate) / 3600.0, "h",
                     fmt::format("{} of {}", meaning, world_.bearings[b].id),
                     "Palmgren and Miner: damage adds up");
}

void ServiceChain::system(const std::string& figure, const std::string& what,
                          double BearingSample::*damage, const std::string& meaning) {
  const double slope = world_.discharge.fatigue_slope.mid();
  chain_.given("slope", slope, "", "Weibull slope of fatigue", {"discharge.fatigue_slope"});
  std::string expression;
  double sum = 0.0;
  for (std::size_t b = 0; b < world_.bearings.size(); ++b) {
    const std::string life = hours(what, damage, b, meaning);
    expression += fmt::format("{}{}^(-slope)", expression.empty() ? "" : " + ", life);
    sum += std::pow(chain_.value(life), -slope);
  }
  chain_.step(figure, fmt::format("({})^(-1/slope)", expression), std::pow(sum, -1.0 / slope), "h",
              meaning + " of all bearings together", "Weibull, product of the survivals",
              "one slope");
}

std::string ServiceChain::life_under_law(const std::string& symbol) {
  const DamageLaw& law = question_.laws.front();
  const auto lives = lives_of(ServiceMeans(ensemble_), law, v_, 0);
  if (!lives) throw std::invalid_argument("the damage law gives no hours here");
  const LifeSlopes slopes = life_slopes(world_);
  chain_.given("slope", slopes.fatigue, "", "Weibull slope of fatigue",
               {"discharge.fatigue_slope"});
  chain_.given("slope_e", slopes.erosion, "", "Weibull slope of erosion by discharges",
               {"discharge.erosion_slope"});
  const double life = competing_life_h(*lives, slopes);
  if (!(std::isfinite(life) && life > 0.0))
    throw std::invalid_argument("life under the law: there is no finite life to work out");
  std::string root = chain_.solved(symbol, life, "h", "age that 90 % of the units survive",
                                   "root of one = 1, the next but last line");
  std::string expression;
  double sum = 0.0;
  for (std::size_t b = 0; b < lives->size(); ++b) {
    const auto add = [&](const std::string& of_cause, double hours, const char* slope,
                         double exponent) {
      if (!std::isfinite(hours)) return;
      expression +=
          fmt::format("{}({}/{})^{}", expression.empty() ? "" : " + ", root, of_cause, slope);
      sum += std::pow(life / hours, exponent);
    };
    add(fatigue_hours_of(b, (*lives)[b]), (*lives)[b].fatigue_h, "slope", slopes.fatigue);
    if (std::isfinite((*lives)[b].erosion_h))
      add(erosion_hours_of(b, law, (*lives)[b]), (*lives)[b].erosion_h, "slope_e", slopes.erosion);
  }
  chain_.step(fmt::format("one{}", tail_), expression, sum, "",
              "shares of the hazard at that age, which add up to 1",
              "Weibull, competing risks at a survival of 90 %");
  return root;
}

double ServiceChain::seconds_per_unit() {
  std::string expression;
  double sum = 0.0;
  for (const std::size_t d : duties_) {
    expression += fmt::format("{}{}/{}*{}", expression.empty() ? "" : " + ", share_of(d),
                              mix_.driven ? distance_of(d) : time_of(d), time_of(d));
    sum += weight(d) * sample_.duties[d].time_s();
  }
  seconds_ = chain_.step(fmt::format("sec{}", tail_), expression, sum, mix_.driven ? "s/m" : "s/s",
                         "running time a unit of the service", "mean over the mix");
  return sum;
}

std::string ServiceChain::of(std::size_t d) const {
  return fmt::format("_{}", symbol_of(question_.duties[d].id));
}
double ServiceChain::weight(std::size_t d) const {
  return weight_of(mix_, d, sample_.duties[d].distance_m(), sample_.duties[d].time_s());
}
std::string ServiceChain::share_of(std::size_t d) {
  return chain_.taken(fmt::format("share{}", of(d)), mix_.share[d], "", "share of the service",
                      "service.mix, or alike");
}
std::string ServiceChain::time_of(std::size_t d) {
  return chain_.taken(fmt::format("t{}{}", of(d), tail_), sample_.duties[d].time_s(), "s",
                      "time of the duty", "the duty");
}
std::string ServiceChain::distance_of(std::size_t d) {
  return chain_.taken(fmt::format("s{}{}", of(d), tail_), sample_.duties[d].distance_m(), "m",
                      "way of the duty", "the duty");
}
std::string ServiceChain::joules_of(std::size_t d) {
  std::vector<std::string> terms;
  double sum = 0.0;
  const DutySample& duty = sample_.duties[d];
  for (std::size_t ph = 0; ph < duty.phases.size(); ++ph) {
    const auto& by_part = mix_.driven ? duty.phases[ph].battery_J : duty.phases[ph].shaft_J;
    double joules = 0.0;
    for (const double part : by_part) joules += part;
    terms.push_back(chain_.taken(
        fmt::format("E{}_{}{}", of(d), ph + 1, tail_), joules, "J",
        fmt::format("all parts of the account in phase {} of {}, {}", ph + 1,
                    question_.duties[d].id, mix_.driven ? "at the battery" : "at the shafts"),
        marched(d)));
    sum += joules;
  }
  return chain_.sum(fmt::format("E{}{}", of(d), tail_), terms, sum, "J", "all phases of the duty");
}

std::string ServiceChain::fatigue_hours_of(std::size_t b, const BearingLives& lives) {
  if (!starts_at_modified(world_))
    return hours("damage", &BearingSample::damage, b, "basic rating life");
  const std::string modified =
      hours("modified", &BearingSample::modified_damage, b, "modified rating life");
  const double factor = lives.fatigue_h / chain_.value(modified);
  const std::string id = symbol_of(world_.bearings[b].id);
  const std::string back = chain_.taken(fmt::format("back_to_90_{}{}", id, tail_), factor, "",
                                        "from the stated survival of the rating life to 90 %",
                                        "reliability factor of ISO 281, 1 at 90 %");
  return chain_.step(fmt::format("Lf_{}{}", id, tail_), fmt::format("{}*{}", modified, back),
                     lives.fatigue_h, "h", "fatigue at a survival of 90 %", "ISO 281");
}

std::string ServiceChain::erosion_hours_of(std::size_t b, const DamageLaw& law,
                                           const BearingLives& lives) {
  const std::string name = fmt::format("Le_{}{}", symbol_of(world_.bearings[b].id), tail_);
  if (law.kind != LawKind::dose)
    return chain_.taken(name, lives.erosion_h, "h", "erosion under the law",
                        law_word(law.kind) + " law over the strikes of the duties");
  const std::string here =
      per_second("dose", &BearingSample::dose_J_m2, b, "J/m2", "discharge dose of the bearing");
  const std::size_t watched = variant_observed(ensemble_, law);
  std::string there = here;
  if (watched != v_)
    there = ServiceChain(ensemble_, watched, "_observed", chain_)
                .per_second("dose", &BearingSample::dose_J_m2, b, "J/m2",
                            "discharge dose of the bearing where it was observed");
  const double after = law.after->mid() / 3600.0;
  chain_.given("after", after, "h", "age at which the event was observed",
               {"damage.calibration.after"});
  return chain_.step(name, fmt::format("after*{}/{}", there, here), lives.erosion_h, "h",
                     "erosion under the dose law", "one observation of the user",
                     "no claim beyond that observation");
}

}  // namespace ohmdrag::study
