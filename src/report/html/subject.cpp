#include "report/html/subject.hpp"

#include <algorithm>

namespace ohmdrag::report {
namespace {

const study::VariantFindings* variant_of(const study::Findings& findings, const std::string& id) {
  const auto found = std::ranges::find(findings.variants, id, &study::VariantFindings::id);
  return found == findings.variants.end() ? nullptr : &*found;
}

const study::ExchangeRow* exchange_of(const study::Findings& findings, const std::string& id) {
  if (!findings.trade) return nullptr;
  const auto& rows = findings.trade->exchange;
  const auto found = std::ranges::find(rows, id, &study::ExchangeRow::variant);
  return found == rows.end() ? nullptr : &*found;
}

}  // namespace

std::string Subject::name_of_other() const {
  if (!other) return {};
  return other->id + (chosen ? " (chosen)" : " (not chosen)");
}

const study::VoltageRow* Subject::voltage(const study::VariantFindings& variant) const {
  if (variant.voltage.empty()) return nullptr;
  if (exchange)
    for (const study::VoltageRow& row : variant.voltage)
      if (row.point == exchange->net_point) return &row;
  return &variant.voltage.front();
}

Subject subject(const study::Findings& findings) {
  Subject out{.findings = findings, .baseline = variant_of(findings, findings.baseline)};
  out.baseline_exchange = exchange_of(findings, findings.baseline);
  if (findings.trade && findings.trade->chosen != findings.baseline) {
    out.other = variant_of(findings, findings.trade->chosen);
    out.chosen = out.other != nullptr;
  }
  for (const bool dominated_too : {false, true})
    for (const study::VariantFindings& variant : findings.variants) {
      if (out.other) break;
      const study::ExchangeRow* row = exchange_of(findings, variant.id);
      if (variant.id != findings.baseline && (dominated_too || (row && row->nondominated)))
        out.other = &variant;
    }
  if (out.other) out.exchange = exchange_of(findings, out.other->id);
  return out;
}

}  // namespace ohmdrag::report
