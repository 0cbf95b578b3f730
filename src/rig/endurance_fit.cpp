#include "ohmdrag/rig/endurance_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "rig/endurance_laws.hpp"
#include "rig/endurance_plausible.hpp"
#include "rig/endurance_population.hpp"
#include "rig/endurance_questions.hpp"
#include "rig/endurance_torque.hpp"

namespace ohmdrag::rig {

namespace {

/// Readings that follow each other more closely are said aloud.
constexpr double close_residuals = 0.5;
/// tau is told where its 95 % interval is no wider than this factor either way.
constexpr double time_told_within = 5.0;
constexpr int curve_points = 24;

EnduranceData data_of(const EnduranceRun& run) {
  EnduranceData data;
  for (const EnduranceSpecimen& specimen : run.specimens) {
    EnduranceSeries series;
    for (const Time& time : specimen.time) series.time_s.push_back(time.value());
    for (const Resistance& impedance : specimen.impedance)
      series.ln_ohm.push_back(std::log(impedance.value()));
    data.reference_s = std::max(data.reference_s, series.time_s.back());
    data.readings += series.time_s.size();
    data.specimens.push_back(std::move(series));
  }
  return data;
}

class Fitter {
 public:
  Fitter(const EnduranceRun& run, EnduranceFit& out) : run_(run), data_(data_of(run)), out_(out) {}

  void run() {
    out_.readings = data_.readings;
    for (const EnduranceSeries& series : data_.specimens)
      begin_s_ = std::max(begin_s_, series.time_s.front());
    end_s_ = data_.reference_s;
    out_.begin = Time::from_value(begin_s_);
    out_.end = Time::from_value(end_s_);
    out_.farthest = farthest_in_runs * out_.end;
    std::vector<LawCandidate> laws = compared_laws(data_, out_);
    const LawCandidate& chosen = choose(laws);
    pooled_ = &chosen.pooled;
    out_.law = chosen.row.law;
    out_.noise = chosen.row.noise;
    const double widening =
        static_cast<double>(data_.readings) / std::max(1.0, out_.effective_readings);
    const CurveSamples samples(*pooled_, data_.specimens.size(), widening);
    const CurveSamples growing(growing_of(laws, chosen).pooled, data_.specimens.size(), widening);
    report_curves(samples, growing);
    report_time(widening);
    answer_questions(run_, samples, growing, out_);
    for (LawCandidate& candidate : laws) {
      predict(candidate);
      out_.laws.push_back(candidate.row);
    }
    compare_in_words();
    report_specimens();
    out_.torque_fall_per_decade = torque_fall(run_, out_.notes);
    for (std::string& step : steps_in_words(run_, *pooled_))
      out_.warnings.push_back(std::move(step));
    warn();
  }

 private:
  const LawCandidate& choose(const std::vector<LawCandidate>& laws) const {
    if (!run_.law) {
      const bool compared = std::all_of(laws.begin(), laws.end(), [](const LawCandidate& law) {
        return law.row.criterion || !law.row.left_out.empty();
      });
      if (!compared || !laws.front().row.criterion)
        throw std::invalid_argument(fmt::format(
            "{} readings of {} specimens, which count as {}, are too few to choose a law of growth "
            "from. Read more often, or name the law",
            data_.readings, data_.specimens.size(), print_number(out_.effective_readings, 2)));
      return laws.front();
    }
    for (const LawCandidate& candidate : laws)
      if (candidate.row.law == *run_.law) {
        if (!candidate.row.left_out.empty())
          throw std::invalid_argument(fmt::format("the {} law does not fit: {}", word_of(*run_.law),
                                                  candidate.row.left_out));
        return candidate;
      }
    throw std::invalid_argument("there is no such law");
  }

  /// The law chosen; where that is no growth, the best that grows.
  static const LawCandidate& growing_of(const std::vector<LawCandidate>& laws,
                                        const LawCandidate& chosen) {
    if (chosen.row.law != GrowthLaw::none) return chosen;
    const auto found = std::find_if(laws.begin(), laws.end(), [](const LawCandidate& law) {
      return law.row.law != GrowthLaw::none && law.row.left_out.empty();
    });
    return found != laws.end() ? *found : chosen;
  }

  void report_curves(const CurveSamples& samples, const CurveSamples& growing) {
    out_.at_begin = exp_of(samples.at(begin_s_).middle());
    out_.at_end = exp_of(samples.at(end_s_).middle());
    const CurveSample whole = growing.growth_between(begin_s_, end_s_);
    out_.growth = growth_factor(out_.law, whole);
    if (out_.law == GrowthLaw::none)
      out_.notes.push_back(fmt::format(
          "No growth is told from none: to the end of the run it may be a factor of {} to {}. "
          "Figures at later hours take it as none.",
          print_number(out_.growth.low, 3), print_number(out_.growth.high, 3)));
    if (data_.specimens.size() > 1) {
      out_.scatter_at_begin = samples.at(begin_s_).scatter();
      if (out_.law != GrowthLaw::none) out_.scatter_of_growth = whole.scatter();
    }
    for (int k = 0; k <= curve_points; ++k) {
      const double t_s = begin_s_ + (end_s_ - begin_s_) * k / curve_points;
      const CurveSample here = samples.at(t_s);
      out_.curve.push_back({Time::from_value(t_s), exp_of(here.middle()), exp_of(here.further())});
    }
  }

  void report_time(double widening) {
    if (out_.law == GrowthLaw::none) return;
    const numerics::LeastSquaresFit& fit = pooled_->fit;
    const std::size_t last = fit.parameter.size() - 1;
    const double half = pooled_->with_time
                            ? numerics::student_95(std::max(
                                  1.0, static_cast<double>(fit.residual.size()) / widening -
                                           static_cast<double>(fit.parameter.size()))) *
                                  std::sqrt(widening) * fit.standard_error(last)
                            : std::numeric_limits<double>::infinity();
    if (!(half <= std::log(time_told_within))) {
      out_.notes.push_back(fmt::format(
          "The time constant of the {} law is not told: over this run the growth is as good as "
          "straight, or nearly over at the first reading. Figures within the run do not depend on "
          "it, those beyond do. Run on, and read more often in the first hours.",
          word_of(out_.law)));
      return;
    }
    const double mid = pooled_->log_time;
    out_.time_constant_s = exp_of({mid - half, mid, mid + half});
    if (out_.law != GrowthLaw::power) return;
    // p = g/ln(1 + T/tau), specimen by specimen.
    CurveSample sample;
    const double q = std::log1p(pooled_->reference_s / std::exp(mid));
    for (std::size_t i = 0; i < data_.specimens.size(); ++i)
      sample.value.push_back(pooled_->growth_of(i) / q);
    const auto m = static_cast<double>(sample.value.size());
    for (const double value : sample.value) sample.mean += value / m;
    double slope = 0.0;  // of the mean over ln(tau), g following it
    const double over = pooled_->reference_s / std::exp(mid);
    const double of_time = fit.covariance[last * (last + 1) + last];
    for (std::size_t i = 0; i < data_.specimens.size(); ++i) {
      const double following = fit.covariance[(2 * i + 1) * (last + 1) + last] / of_time;
      slope += (following / q + pooled_->growth_of(i) / (q * q) * over / (1.0 + over)) / m;
      sample.deviation += std::pow(sample.value[i] - sample.mean, 2);
      sample.noise_variance += widening * fit.covariance[(2 * i + 1) * (last + 2)] / (q * q) / m;
    }
    sample.deviation = m > 1.0 ? std::sqrt(sample.deviation / (m - 1.0)) : 0.0;
    sample.time_variance = slope * slope * of_time * widening;
    sample.noise_degrees = std::max(1.0, static_cast<double>(fit.residual.size()) / widening -
                                             static_cast<double>(fit.parameter.size()));
    out_.exponent = sample.middle();
  }

  /// What the law says at the service hours, for comparison.
  void predict(LawCandidate& candidate) const {
    if (!candidate.row.left_out.empty()) return;
    const CurveSamples samples(candidate.pooled, data_.specimens.size(), 1.0);
    const auto middle = [&](double t_s) { return samples.at(t_s).mean; };
    if (run_.service && *run_.service <= out_.farthest) {
      const double value = middle(run_.service->value());
      if (std::isfinite(value)) candidate.row.at_service = std::exp(value);
    }
    if (run_.limit)
      candidate.row.crossing_s =
          first_crossing(middle, std::log(run_.limit->value()), begin_s_, out_.farthest.value());
  }

  void compare_in_words() {
    std::string rivals, least, most;
    double low = std::numeric_limits<double>::infinity(), high = 0.0;
    for (const EnduranceLaw& law : out_.laws) {
      if (!law.criterion || *law.criterion >= told_apart) continue;
      rivals += (rivals.empty() ? "" : " and ") + std::string(word_of(law.law));
      if (!law.at_service) continue;
      if (*law.at_service < low) least = word_of(law.law);
      if (*law.at_service > high) most = word_of(law.law);
      low = std::min(low, *law.at_service);
      high = std::max(high, *law.at_service);
    }
    if (rivals.find(" and ") == std::string::npos) return;
    std::string text =
        fmt::format("The run cannot tell these laws of growth apart (criteria within {}): {}.",
                    print_number(told_apart, 2), rivals);
    if (run_.service && high > low)
      text += fmt::format(" At {} they say {} ohm ({}) to {} ohm ({}) for the middle part.",
                          hours_in_words(run_.service->value()), print_number(low, 3), least,
                          print_number(high, 3), most);
    out_.warnings.push_back(text + " A longer run would tell.");
  }

  void report_specimens() {
    std::size_t first = 0;
    for (std::size_t i = 0; i < run_.specimens.size(); ++i) {
      const EnduranceSpecimen& specimen = run_.specimens[i];
      const auto curve = [&](double t_s) {
        return pooled_->level(i) + growth(pooled_->law, pooled_->growth_of(i), t_s,
                                          pooled_->reference_s, pooled_->log_time)
                                       .value;
      };
      EnduranceSpecimenFit row;
      row.name = specimen.name;
      row.readings = specimen.time.size();
      row.time = specimen.time;
      row.impedance = specimen.impedance;
      row.last = specimen.time.back();
      row.at_begin = Resistance::from_value(std::exp(curve(begin_s_)));
      row.at_last = Resistance::from_value(std::exp(curve(row.last.value())));
      if (run_.limit)
        row.crossing_s =
            first_crossing(curve, std::log(run_.limit->value()), begin_s_, out_.farthest.value());
      for (std::size_t j = 0; j < row.readings; ++j)
        row.residual.push_back(-pooled_->fit.residual[first + j]);
      for (const std::size_t datum : pooled_->fit.outliers)
        row.outliers += datum >= first && datum < first + row.readings ? 1 : 0;
      first += row.readings;
      out_.specimens.push_back(std::move(row));
    }
  }

  void warn() {
    if (data_.specimens.size() == 1)
      out_.notes.emplace_back(
          "One specimen: how parts differ is not told, and nothing is said of a further part or of "
          "the share below a limit. The intervals are those of this specimen's noise. Run three or "
          "more.");
    else if (out_.scatter_at_begin && out_.scatter_at_begin->low == 0.0)
      out_.notes.emplace_back(
          "The scatter from part to part is not told apart from the noise of the readings: its "
          "interval holds zero.");
    if (out_.lag_one > close_residuals)
      out_.warnings.push_back(fmt::format(
          "Readings follow each other ({} from one to the next): the contact wanders, or something "
          "that was not logged does. {} readings count as {}.",
          print_number(out_.lag_one, 2), out_.readings, print_number(out_.effective_readings, 2)));
    for (const EnduranceSpecimenFit& specimen : out_.specimens)
      if (farthest_in_runs * specimen.last < out_.end)
        out_.warnings.push_back(
            fmt::format("Specimen {} ends at {}: its curve is carried on to {} with the time of "
                        "the others. If it was taken out because it was bad, the figures flatter.",
                        specimen.name, hours_in_words(specimen.last.value()),
                        hours_in_words(out_.end.value())));
  }

  const EnduranceRun& run_;
  EnduranceData data_;
  EnduranceFit& out_;
  const PooledFit* pooled_ = nullptr;
  double begin_s_ = 0.0, end_s_ = 0.0;
};

}  // namespace

EnduranceFit fit_endurance(const EnduranceRun& run) {
  require_plausible(run);
  EnduranceFit fit;
  const EnduranceRun sparse = thinned(run, fit.notes);
  Fitter(sparse, fit).run();
  return fit;
}

std::string_view word_of(GrowthLaw law) {
  switch (law) {
    case GrowthLaw::none:
      return "constant";
    case GrowthLaw::power:
      return "power";
    case GrowthLaw::logarithmic:
      return "logarithmic";
    case GrowthLaw::saturating:
      return "saturating";
  }
  return {};
}

}  // namespace ohmdrag::rig
