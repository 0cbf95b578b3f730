// What a case can include of a unit's corrected drag: the friction of its parts.
#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <stdexcept>
#include <utility>

#include "ohmdrag/numerics/root.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/contact_members.hpp"
#include "study/unit_drag.hpp"

namespace ohmdrag::study {
namespace {

/// A number in an entry of its own, to which the drag of a part is proportional.
struct Scaled {
  std::string table, key;
  double value = 0.0;
};

/// "contact.light-lip.friction" is the key `friction` of [contact.light-lip]. Nothing for a number
/// that stands in a variant or a bearing of the case: no include reaches it.
std::optional<Scaled> in_an_entry(const UncertainNumber& number) {
  const std::size_t dot = number.key.rfind('.');
  if (dot == std::string::npos) return std::nullopt;
  const std::string table = number.key.substr(0, dot);
  for (const std::string_view section : {"contact.", "rule.", "bearing_type."})
    if (table.starts_with(section) && table.find('.', section.size()) == std::string::npos)
      return Scaled{table, number.key.substr(dot + 1), number.mid()};
  return std::nullopt;
}

const FrictionEntry* friction_of(const Element& element) {
  if (const auto* lip = std::get_if<LipElement>(&element.form)) return &lip->law;
  if (const auto* ring = std::get_if<RingElement>(&element.form)) return &ring->law;
  if (const auto* brush = std::get_if<BrushElement>(&element.form)) return &brush->law;
  return nullptr;
}

/// What scales the drag of a part as a whole.
std::vector<const UncertainNumber*> scales_of(const Element& element) {
  if (const FrictionEntry* law = friction_of(element)) {
    if (const auto* film = std::get_if<MixedFilmEntry>(law))
      return {&film->boundary_friction, &film->film_coefficient};
    if (const auto* ptfe = std::get_if<PtfeFrictionEntry>(law))
      return {&ptfe->slow_coefficient, &ptfe->middle_coefficient, &ptfe->fast_coefficient};
    return {&std::get<ConstantFrictionEntry>(*law).friction};
  }
  if (const auto* rule = std::get_if<RuleElement>(&element.form)) return {&rule->coefficient};
  if (const auto* stated = std::get_if<StatedElement>(&element.form)) return {&stated->power};
  return {};
}

std::vector<const UncertainNumber*> scales_of(const BearingType& type) {
  std::vector<const UncertainNumber*> numbers{&type.torque_factor, &type.load_torque_factor};
  if (type.flange_factor) numbers.push_back(&*type.flange_factor);
  return numbers;
}

/// A part of the variant with what scales its drag.
struct Component {
  std::string id;
  std::vector<const UncertainNumber*> scales;
  bool rubs = false;  ///< its torque depends on how hot its friction makes it
};

std::vector<Component> components_of(const UnitDragModel& model) {
  std::vector<Component> result;
  const auto add = [&](const std::string& id, const Element& element) {
    result.push_back({id, scales_of(element), friction_of(element) != nullptr});
  };
  const Variant& variant = model.variant();
  if (variant.seal) add("seal", variant.seal->element);
  if (variant.grounding) add("grounding", variant.grounding->element);
  for (const ExtraDrag& extra : variant.extras) add(extra.id, extra.element);
  for (const Bearing& bearing : model.world().bearings)
    result.push_back({bearing.id, scales_of(bearing.type), false});
  return result;
}

class EntryWriter {
 public:
  EntryWriter(rig::RunFindings& out, const UnitDragLog& log, const UnitDragModel& model,
              const rig::UnitDragFit& fit)
      : out_(out), log_(log), model_(model), fit_(fit), components_(components_of(model)) {}

  void write() {
    for (const Component& component : components_)
      for (const UncertainNumber* number : component.scales)
        if (const auto scaled = in_an_entry(*number)) users_[scaled->table].push_back(component.id);
    for (std::size_t p = 0; p < fit_.parts.size(); ++p) write(p);
    if (out_.entries.empty()) {
      out_.no_entry = "no part was corrected whose friction stands in an entry of its own";
      return;
    }
    out_.entry_comments.emplace_back(
        "Each is the friction that meets the corrected mean torque of its part, with what else the "
        "case says of it in the middle; the course over the speed stays that of the model.");
    add_correlations();
    out_.entry_comments.emplace_back(
        "A case goes on drawing forces and widths, which the measured unit had already: its "
        "intervals come out too wide rather than too narrow. One specimen says nothing of the "
        "scatter from part to part.");
  }

 private:
  void write(std::size_t p) {
    const rig::CorrectedPart& part = fit_.parts[p];
    if (!part.factor) return;
    const Component& component = *std::ranges::find(components_, part.name, &Component::id);
    std::vector<Scaled> numbers;
    for (const UncertainNumber* number : component.scales)
      if (const auto scaled = in_an_entry(*number)) numbers.push_back(*scaled);
    if (numbers.empty() || numbers.size() < component.scales.size()) {
      leave_out(part, "its friction does not stand in an entry of its own");
      return;
    }
    const auto& users = users_[numbers.front().table];
    if (std::ranges::any_of(users, [&](const std::string& id) { return id != component.id; })) {
      leave_out(part, fmt::format("[{}] serves other parts as well", numbers.front().table));
      return;
    }
    const double value = part.torque.value.value(), half = part.torque.half_width.value();
    const double before = part.torque_before_Nm;
    if (!(value > half && before > 0.0)) {
      leave_out(part, "its torque is not known to be above zero");
      return;
    }
    try {
      const double middle = friction_factor(component, p, value / before);
      const double low = friction_factor(component, p, (value - half) / before);
      const double high = friction_factor(component, p, (value + half) / before);
      rig::FittedEntry entry{numbers.front().table, validity(), {}};
      for (const Scaled& number : numbers) {
        rig::FittedNumber fitted;
        fitted.value = middle * number.value;
        fitted.spread_factor = std::sqrt(high / low);
        entry.lines.push_back({number.key, fitted});
        // A factor that is printed as one leaves nothing to correlate.
        constexpr double seen = 1.005;
        if (*fitted.spread_factor > seen) written_.emplace_back(number.table + '.' + number.key, p);
      }
      out_.entries.push_back(std::move(entry));
    } catch (const std::domain_error&) {
      leave_out(part, "no friction of its law gives this torque without running away");
    } catch (const std::invalid_argument&) {
      leave_out(part, "no friction of its law gives this torque");
    }
  }

  /// All numbers of a part were moved by one factor, those of two parts as the fit tells them
  /// apart.
  void add_correlations() {
    if (written_.size() < 2) return;
    const std::size_t parts = fit_.parts.size();
    std::vector<std::string> keys;
    std::vector<double> matrix;
    for (const auto& [key, p] : written_) {
      keys.push_back(key);
      for (const auto& [other, q] : written_)
        matrix.push_back(p == q ? 1.0 : fit_.correlation[p * parts + q]);
    }
    out_.correlations.push_back(rig::fitted_correlation(std::move(keys), std::move(matrix)));
  }

  void leave_out(const rig::CorrectedPart& part, const std::string& why) {
    out_.entry_comments.push_back(
        fmt::format("{} is left out: {}. Its torque is {} times that of its model.", part.name, why,
                    print_number(part.torque.value.value() / part.torque_before_Nm, 3)));
  }

  /// The factor on the friction of a part that makes its mean torque so many times that of its
  /// model: a contact that rubs more is hotter and its oil thinner.
  double friction_factor(const Component& component, std::size_t p, double ratio) const {
    if (!component.rubs) return ratio;
    constexpr double wider = 8.0, relative = 1e-10;
    return numerics::bracketed_root(
        [&](double factor) {
          const UnitDragModel::FrictionFactor friction{component.id, factor};
          return mean_Nm(p, model_.torques_Nm(Draw(), &friction)) / fit_.parts[p].torque_before_Nm -
                 ratio;
        },
        ratio / wider, ratio * wider, relative * ratio);
  }

  double mean_Nm(std::size_t p, const std::vector<std::vector<double>>& torques_Nm) const {
    double sum = 0.0, readings = 0.0;
    for (std::size_t i = 0; i < torques_Nm.size(); ++i) {
      if (log_.readings[i].build != fit_.fullest_build) continue;
      sum += torques_Nm[i][p];
      readings += 1.0;
    }
    return sum / readings;
  }

  std::string validity() const {
    const auto [slow, fast] = std::ranges::minmax_element(
        log_.readings, {}, [](const DragReading& r) { return r.speed.value(); });
    const auto [cold, hot] = std::ranges::minmax_element(
        log_.readings, {}, [](const DragReading& r) { return r.oil.value(); });
    return fmt::format("{:.0f} to {:.0f} 1/min at shaft {}, oil at {:.0f} to {:.0f} degC, no load",
                       in_rpm(slow->speed), in_rpm(fast->speed), log_.shaft, in_celsius(cold->oil),
                       in_celsius(hot->oil));
  }

  rig::RunFindings& out_;
  const UnitDragLog& log_;
  const UnitDragModel& model_;
  const rig::UnitDragFit& fit_;
  std::vector<Component> components_;
  std::map<std::string, std::vector<std::string>> users_;     ///< of each table
  std::vector<std::pair<std::string, std::size_t>> written_;  ///< uncertain keys and their parts
};

}  // namespace

void add_drag_entries(rig::RunFindings& out, const UnitDragLog& log, const UnitDragModel& model,
                      const rig::UnitDragFit& fit) {
  EntryWriter(out, log, model, fit).write();
}

}  // namespace ohmdrag::study
