#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "ohmdrag/quantity/print.hpp"
#include "study/open_shaft.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double metre_in_um = 1e6;
constexpr double kg_per_s_in_mg_per_1000h = 1e6 * 3.6e6;

Interval exactly(double value) { return {value, value, value}; }

std::string in_words(const std::variant<NoPath, Strap, Wire, StatedPath>& path) {
  if (std::holds_alternative<Strap>(path)) return "a strap to the frame";
  if (std::holds_alternative<Wire>(path)) return "a wire to the frame";
  return "its path to the frame";
}

std::ptrdiff_t insulated_bearings(const Case& world) {
  return std::ranges::count_if(world.bearings, [](const Bearing& bearing) {
    return !std::holds_alternative<std::monostate>(bearing.insulation);
  });
}

/// One variant beside the baseline.
class HarmAccount {
 public:
  HarmAccount(const Ensemble& ensemble, std::size_t v, const Nominal& nominal)
      : ensemble_(ensemble),
        variant_(v),
        question_(*ensemble.question),
        entry_(question_.variants[v]),
        nominal_(nominal),
        baseline_(ensemble, ensemble.baseline),
        element_basis_(basis_of_part(nominal, "grounding")) {}

  std::vector<HarmRow> rows() const {
    std::vector<HarmRow> all;
    const auto add = [&](std::optional<HarmRow> row) {
      if (row) all.push_back(std::move(*row));
    };
    if (entry_.grounding) {
      add(debris());
      add(oil());
      add(groove());
    }
    add(seal_temperature());
    if (entry_.grounding) {
      add(circulating_current());
      add(failure_open());
      add(watts_when_open());
    }
    add(parts());
    return all;
  }

 private:
  const std::vector<VariantSample>& samples() const { return ensemble_.samples[variant_]; }
  const std::vector<VariantSample>& base() const { return ensemble_.samples[ensemble_.baseline]; }

  static std::optional<std::size_t> part(const Nominal& of, const std::string& id) {
    const auto place = std::ranges::find(of.variant.parts, id, &PartInfo::id);
    if (place == of.variant.parts.end()) return std::nullopt;
    return static_cast<std::size_t>(place - of.variant.parts.begin());
  }

  static Basis basis_of_part(const Nominal& of, const std::string& id) {
    const auto place = part(of, id);
    return place ? of.variant.parts[*place].basis : Basis::measured;
  }

  const LivingContact* element_life() const {
    const auto& lives = nominal_.variant.lives;
    const auto place = std::ranges::find(lives, "grounding", &LivingContact::id);
    return place == lives.end() ? nullptr : &*place;
  }

  /// Of the element over its service; none where nothing states it.
  std::optional<Interval> of_element(double ContactSample::*member, double unit) const {
    const LivingContact* life = element_life();
    if (!life || !life->life.history) return std::nullopt;
    const auto index = static_cast<std::size_t>(life - nominal_.variant.lives.data());
    if (std::isnan(samples().front().contacts[index].*member)) return std::nullopt;
    return reduce(samples(),
                  [&](const VariantSample& s) { return unit * (s.contacts[index].*member); });
  }

  HarmRow debris() const {
    const auto figure = of_element(&ContactSample::debris_kg_per_s, kg_per_s_in_mg_per_1000h);
    const auto* ring = std::get_if<RingElement>(&entry_.grounding->element.form);
    std::string text;
    if (entry_.grounding->debris_reaches_oil)
      text = "reaches the oil of the bearings";
    else if (ring && ring->oil)
      text =
          "the contact stands in the oil, yet the case keeps its debris out of it "
          "(debris_reaches_oil is not set)";
    else
      text = "stays out of the oil, as the case has it (debris_reaches_oil is not set)";
    if (!figure) text = "amount not known: no wear of the element or no service is stated; " + text;
    return {"debris", figure, "mg/1000 h", text + ".", element_basis_};
  }

  /// Modified rating life of a bearing in one draw, h.
  double modified_life_h(const VariantSample& sample, std::size_t bearing) const {
    const double damage =
        service_mean(service_mix(question_), sample, bearing).per_second.modified_damage;
    return damage > 0.0 ? 1.0 / damage / 3600.0 : std::numeric_limits<double>::infinity();
  }

  std::optional<HarmRow> oil() const {
    if (!entry_.grounding->debris_reaches_oil) return std::nullopt;
    HarmRow row{"oil", std::nullopt, "1", "", Basis::assumed};
    const Case& world = ensemble_.world(variant_);
    if (!world.sump.cleanliness || world.bearings.empty() || samples().front().duties.empty()) {
      row.text = "no modified rating life in this case: what the debris costs is not shown.";
      return row;
    }
    const OilCleanliness& oil = *world.sump.cleanliness;
    if (!oil.with_debris) {
      row.text = fmt::format("class {} already, and none is dirtier: the debris shows in no life.",
                             oil.usual.id);
      return row;
    }
    const auto life = [&](const std::vector<VariantSample>& of, std::size_t b) {
      return reduce(of, [&](const VariantSample& s) { return modified_life_h(s, b); });
    };
    std::size_t worst = 0;
    for (std::size_t b = 1; b < world.bearings.size(); ++b)
      if (life(samples(), b).mid < life(samples(), worst).mid) worst = b;
    row.figure = reduce(samples(), base(), [&](const VariantSample& s, const VariantSample& o) {
      const double before = modified_life_h(o, worst);
      return std::isfinite(before) ? modified_life_h(s, worst) / before : not_a_figure;
    });
    row.text = fmt::format(
        "of the baseline's modified rating life is left to the worst bearing, {}: {} h instead of "
        "{} h. Oil taken as one class dirtier, {} instead of {} (assumed rule).",
        world.bearings[worst].id, print_number(life(samples(), worst).mid, 3),
        print_number(life(base(), worst).mid, 3), oil.with_debris->id, oil.usual.id);
    return row;
  }

  HarmRow groove() const {
    const auto figure = of_element(&ContactSample::groove_m, metre_in_um);
    HarmRow row{"shaft-groove", figure, "µm", "", element_basis_};
    if (!figure) {
      row.text =
          "depth not known: no wear of the shaft under the element or no service is "
          "stated.";
      return row;
    }
    row.text = fmt::format(
        "deep in the shaft under the element after {} running hours{}.",
        print_number(element_life()->life.history->age.value() / 3600.0, 3),
        entry_.grounding->replaced_every ? "; a new element at the same place wears it on" : "");
    return row;
  }

  /// Draw by draw at every point; the figure is the worst of their middles.
  std::optional<HarmRow> seal_temperature() const {
    const auto here = part(nominal_, "seal");
    const auto there = part(baseline_, "seal");
    if (!here || !there) return std::nullopt;
    HarmRow row{"seal-contact-temperature", std::nullopt, "K", "",
                weakest(weakest(basis_of_part(nominal_, "seal"), basis_of_part(baseline_, "seal")),
                        element_basis_)};
    for (std::size_t p = 0; p < ensemble_.world(variant_).points.size(); ++p) {
      const auto degC = [p](const VariantSample& s, std::size_t i) {
        return s.points[p].parts[i].contact_degC;
      };
      const Interval rise =
          reduce(samples(), base(), [&](const VariantSample& s, const VariantSample& b) {
            return degC(s, *here) - degC(b, *there);
          });
      if (std::isnan(rise.mid)) continue;
      const auto middle = [&](const std::vector<VariantSample>& of, std::size_t i) {
        return print_number(reduce(of, [&](const VariantSample& s) { return degC(s, i); }).mid, 3);
      };
      row.text +=
          fmt::format("{}{} °C instead of {} °C at {}", row.text.empty() ? "" : ", ",
                      middle(samples(), *here), middle(base(), *there), question_.points[p].id);
      if (!row.figure || rise.mid > row.figure->mid) row.figure = rise;
    }
    const bool moved = row.figure && (row.figure->low != 0.0 || row.figure->high != 0.0);
    if (!row.figure || (!entry_.grounding && !moved)) return std::nullopt;
    row.text = "added to the contact of the seal where it is worst: " + row.text + ".";
    return row;
  }

  std::optional<HarmRow> circulating_current() const {
    const auto reasons = circulating_current_reasons(question_, entry_);
    if (!has_electrics(ensemble_.world(variant_)) || reasons.empty()) return std::nullopt;
    std::string text =
        "the contact closes a new path for current along the shaft, and circulating bearing "
        "current is not modelled: ";
    for (std::size_t i = 0; i < reasons.size(); ++i) text += (i == 0 ? "" : ", and ") + reasons[i];
    return HarmRow{"circulating-current", std::nullopt, "", text + ".", Basis::unverified};
  }

  std::optional<HarmRow> failure_open() const {
    if (!has_electrics(ensemble_.world(variant_))) return std::nullopt;
    HarmRow row{"failure-open", std::nullopt, "V", "", Basis::assumed};
    const Variant& present = question_.variants[ensemble_.baseline];
    // What is left without the contact is the baseline, if that differs by the contact alone.
    const bool like_baseline = !present.grounding && !entry_.world && !present.world;
    if (!ensemble_.sections.voltage || ensemble_.world(variant_).points.empty()) {
      row.text = like_baseline ? "a contact that opens leaves the voltage of the baseline."
                               : "a contact that opens leaves the voltage of an ungrounded shaft.";
      return row;
    }
    const OpenShaft open =
        like_baseline ? open_shaft_of_baseline(ensemble_) : open_shaft_of(ensemble_, variant_);
    row.figure = open.edge_V;
    row.text = fmt::format(
        "edge peak of the legs that the verdict counts on {}, back at once when the contact opens, "
        "with {} V held; nothing tells of it.",
        like_baseline ? "the shaft of the baseline" : "the shaft of this variant without a contact",
        print_number(open.held_V.mid, 3));
    return row;
  }

  std::optional<HarmRow> watts_when_open() const {
    const auto here = part(nominal_, "grounding");
    HarmRow row{"watts-when-open", std::nullopt, "W", "", element_basis_};
    for (std::size_t p = 0; here && p < ensemble_.world(variant_).points.size(); ++p) {
      const Interval own =
          reduce(samples(), [&](const VariantSample& s) { return s.points[p].parts[*here].own_W; });
      if (row.figure && !(own.mid > row.figure->mid)) continue;
      row.figure = own;
      row.text = fmt::format(
          "at {}, paid all the same by a contact that a film or oil has opened while it still "
          "rubs.",
          question_.points[p].id);
    }
    if (!row.figure) return std::nullopt;
    return row;
  }

  std::optional<HarmRow> parts() const {
    int count = 0;
    std::string text;
    if (entry_.grounding) {
      const Grounding& grounding = *entry_.grounding;
      const bool joined = !std::holds_alternative<NoPath>(grounding.path);
      count = joined ? 2 : 1;
      text = "1 grounding element";
      if (joined) text += " and " + in_words(grounding.path);
      if (grounding.replaced_every)
        text += fmt::format("; the element again after every {} running hours",
                            print_number(grounding.replaced_every->mid() / 3600.0, 4));
    }
    const auto more = insulated_bearings(ensemble_.world(variant_)) -
                      insulated_bearings(ensemble_.world(ensemble_.baseline));
    if (more > 0) {
      count += static_cast<int>(more);
      text +=
          fmt::format("{}{} with insulation or ceramic rolling elements", text.empty() ? "" : "; ",
                      more == 1 ? "1 bearing" : fmt::format("{} bearings", more));
    }
    if (count == 0) return std::nullopt;
    return HarmRow{"parts", exactly(count), "1", text + ".", Basis::derived};
  }

  const Ensemble& ensemble_;
  std::size_t variant_;
  const Case& question_;
  const Variant& entry_;
  const Nominal& nominal_;
  Nominal baseline_;
  Basis element_basis_;
};

}  // namespace

void fill_harm(const Ensemble& ensemble, std::size_t v, const Nominal& nominal,
               VariantFindings& findings) {
  if (v == ensemble.baseline) return;
  findings.harm = HarmAccount(ensemble, v, nominal).rows();
}

}  // namespace ohmdrag::study
