#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/study/findings.hpp"

/// The findings' rows as JSON; what is not finite becomes null.
namespace ohmdrag::report {

using Json = nlohmann::ordered_json;

inline Json number(double value) { return std::isfinite(value) ? Json(value) : Json(); }
inline Json word_or_null(const std::string& word) { return word.empty() ? Json() : Json(word); }

inline Json to(double value) { return number(value); }
inline Json to(bool value) { return value; }
Json to(const Interval& value);
Json to(const study::Flag& flag);
Json to(const study::ImpedancePoint& point);
Json to(const study::BandReduction& band);
Json to(const study::CreditVerdict& verdict);
Json to(const study::ElectricalLife& life);
Json to(const study::BudgetRow& row);
Json to(const study::AccountPart& part);
Json to(const study::AccountRow& row);
Json to(const study::SplitPart& part);
Json to(const study::SplitRow& row);
Json to(const study::WorthRow& row);
Json to(const study::ServiceRow& row);
Json to(const study::HarmRow& row);
Json to(const study::EnergyRow& row);
Json to(const study::EnergyTotal& total);
Json to(const study::TripRow& row);
Json to(const study::VoltageRow& row);
Json to(const study::PathRow& row);
Json to(const study::DischargeRow& row);
Json to(const study::SpectrumBin& bin);
Json to(const study::WaveformPoint& point);
Json to(const study::DensityStatement& row);
Json to(const study::DutyTime& row);
Json to(const study::StrikeMap& map);
Json to(const study::LifeRow& row);
Json to(const study::LifeSystem& system);
Json to(const study::YearsAge& row);
Json to(const study::YearsStep& step);
Json to(const study::Protection& protection);
Json to(const study::YearsFindings& years);
// json_courses.cpp
Json to(const study::DutyCourse& course);
Json to(const study::SpeedWatts& watts);
// sizing.cpp
Json to(const study::SizingFindings& window);
// json_doubt.cpp
Json to(const study::ShareOfParts& row);
Json to(const study::StableEnd& row);
Json to(const study::Stability& stability);
Json to(const study::FirstOrderRow& row);
Json to(const study::RequirementRow& row);
Json to(const study::ExchangeRow& row);
Json to(const study::Trade& trade);
Json to(const study::Assumption& row);
Json to(const study::VarianceShare& share);
Json to(const study::InputMoves& row);
Json to(const study::FigureMoves& row);
Json to(const study::DialStep& row);
Json to(const study::OpenedNumber& row);
Json to(const study::RankRow& row);
Json to(const study::RankPair& row);
Json to(const study::ChangedInput& row);
Json to(const study::Flip& flip);
Json to(const study::StressTest& test);
Json to(const study::SensitivityFindings& found);

/// The whole result document.
Json document_of(const study::Findings& findings);

template <class T>
Json to(const std::optional<T>& value) {
  return value ? to(*value) : Json();
}

template <class T>
Json list(const std::vector<T>& values) {
  Json out = Json::array();
  for (const T& value : values) out.push_back(to(value));
  return out;
}

}  // namespace ohmdrag::report
