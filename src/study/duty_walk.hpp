#pragma once

#include <memory>
#include <vector>

#include "study/sections.hpp"

/// One walk of every variant, everything at its middle, through the duties, for all sections that
/// look on. A trip is long: it is read and marched once for all of them.
namespace ohmdrag::study {

/// Whoever looks on while one variant goes through its duties.
class Onlooker {
 public:
  Onlooker() = default;
  Onlooker(const Onlooker&) = delete;
  Onlooker& operator=(const Onlooker&) = delete;
  virtual ~Onlooker() = default;

  /// Before the first duty; in parallel over the variants.
  virtual void set_out() {}
  virtual bool wants(std::size_t duty) const = 0;
  /// A duty begins, or one trip of it.
  virtual void begin(const DutyModel& way, std::size_t duty) = 0;
  /// A stretch of it, with the contacts of the variant as new.
  virtual void see(const energy::Moment& moment) = 0;
  /// Its end.
  virtual void end(const energy::Ledger& ledger) = 0;
};

/// One variant on its way.
struct Walker {
  Walker(const Ensemble& ensemble, std::size_t v) : variant(v), nominal(ensemble, v) {}

  std::size_t variant;
  Nominal nominal;
  std::vector<Onlooker*> onlookers;
};
using Walkers = std::vector<std::unique_ptr<Walker>>;

/// Walkers go in parallel, the onlookers of one of them one after another.
/// \throws std::invalid_argument, std::domain_error naming the variant.
void walk_duties(const Case& question, const Walkers& walkers);

}  // namespace ohmdrag::study
