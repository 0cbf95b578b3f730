#include <fmt/format.h>

#include <stdexcept>

#include "study/explain_service_chain.hpp"

namespace ohmdrag::study {
namespace {

void explain_dose_factor(const Ensemble& ensemble, std::size_t v, Chain& chain) {
  const auto dose = [&](std::size_t variant, const std::string& tail) {
    return ServiceChain(ensemble, variant, tail, chain)
        .per_second("dose", &BearingSample::dose_J_m2, {}, "J/m2",
                    "discharge dose of all ways to the frame");
  };
  const std::string here = dose(v, ""), base = dose(ensemble.baseline, "_base");
  if (!(chain.value(here) > 0.0))
    throw std::invalid_argument("dose_factor: no discharge is left in the model");
  chain.step("dose_factor", fmt::format("{}/{}", base, here), chain.value(base) / chain.value(here),
             "", "dose of the present design over this one", "definition");
}

}  // namespace

void explain_service(const Ensemble& ensemble, std::size_t v, const std::string& figure,
                     Chain& chain) {
  ServiceChain here(ensemble, v, "", chain);
  if (figure == "dose_factor") return explain_dose_factor(ensemble, v, chain);
  if (figure == "basic_life_h")
    return here.system(figure, "damage", &BearingSample::damage, "basic rating life");
  if (figure == "modified_life_h")
    return here.system(figure, "modified", &BearingSample::modified_damage, "modified rating life");
  if (figure == "striking_time_share") {
    const std::string share = here.per_second("striking", &BearingSample::striking_s, {}, "s",
                                              "time in which the film may be struck");
    chain.step(figure, share, chain.value(share), "", "share of the running time", "definition");
    return;
  }
  if (figure == "life_h") {
    here.life_under_law(figure);
    return;
  }
  if (figure == "life_gain_h") {
    ServiceChain base(ensemble, ensemble.baseline, "_base", chain);
    const std::string with = here.life_under_law("life"),
                      without = base.life_under_law("life_base");
    chain.step(figure, fmt::format("{} - {}", with, without),
               chain.value(with) - chain.value(without), "h", "against the present design",
               "difference");
    return;
  }
  explain_energy(ensemble, v, figure, chain);
}

}  // namespace ohmdrag::study
