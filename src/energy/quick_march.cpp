#include "ohmdrag/energy/quick_march.hpp"

#include <algorithm>
#include <boost/container/static_vector.hpp>
#include <utility>

#include "energy/walked_duty.hpp"

namespace ohmdrag::energy {

DutyColumns::DutyColumns(std::shared_ptr<const PlacedStretches> of, std::vector<Bearing> loaded)
    : stretches(std::move(of)), bearings(std::move(loaded)), load_W(stretches->steps.size(), 0.0) {
  for (const Bearing& bearing : bearings) {
    const double scale = bearing.scale;
    const double* const power_W = bearing.torques->power_W.data();
    double* const sum_W = load_W.data();
    for (std::size_t i = 0; i < load_W.size(); ++i) sum_W[i] += scale * power_W[i];
  }
}

QuickMarch::QuickMarch(const DriveUnit& unit, std::span<const component::SpeedGrid> grids,
                       std::vector<Temperature> dry, numerics::LaneWidth width)
    : tables_(std::make_unique<Tables>(unit, grids, std::move(dry), width)) {}

QuickMarch::QuickMarch(QuickMarch&&) noexcept = default;
QuickMarch::~QuickMarch() = default;

namespace {

/// Duties that may be walked side by side, marched to their ends.
class Together {
 public:
  /// \param lanes  to be used by those that may; one serves several duties in turn
  Together(std::span<const QuickMarch::Order> orders, std::span<QuickMarch::Marched> found,
           WalkLanes& lanes)
      : orders_(orders), found_(found) {
    if (orders.size() < fewest_in_lanes || !std::ranges::all_of(orders, WalkedDuty::fits_lanes))
      return;
    lanes_ = &lanes;
    std::size_t used = 0;
    for (const QuickMarch::Order& order : orders)
      used = std::max(used, WalkedDuty::used_figures(order));
    lanes.begin(used, 3 * orders.front().phases);
  }

  void march() {
    for (std::size_t d = 0; d < orders_.size(); ++d)
      if (ready(d)) under_way_.push_back(d);
    while (!under_way_.empty()) {
      walk();
      std::erase_if(under_way_,
                    [&](std::size_t d) { return duties_[d]->walk().has_stopped() && !ready(d); });
    }
  }

 private:
  /// Takes a duty to its next walk; false at its end.
  bool ready(std::size_t d) {
    try {
      if (!duties_[d]) duties_[d].emplace(orders_[d], lanes_, d);
      if (duties_[d]->ready()) return true;
      found_[d].ledger = duties_[d]->ledger();
      found_[d].oil_K = std::move(duties_[d]->oil_K());
    } catch (...) {
      found_[d].failure = std::current_exception();
    }
    return false;
  }

  /// Walks those that are behind, at most as far as the others are.
  void walk() {
    std::size_t next = orders_.front().duty.size(), to = next;
    for (const std::size_t d : under_way_) next = std::min(next, duties_[d]->walk().next);
    boost::container::static_vector<TableWalk*, most_side_by_side> walks;
    for (const std::size_t d : under_way_) {
      TableWalk& here = duties_[d]->walk();
      if (here.next == next)
        walks.push_back(&here);
      else
        to = std::min(to, here.next);
    }
    const numerics::LaneWidth width = duties_[under_way_.front()]->width();
    const std::span<TableWalk* const> in_step{walks.data(), walks.size()};
    if (lanes_ && walks.size() == orders_.size())
      energy::walk(in_step, to, width, *lanes_);
    else
      energy::walk(in_step, to, width);
  }

  std::span<const QuickMarch::Order> orders_;
  std::span<QuickMarch::Marched> found_;
  WalkLanes* lanes_ = nullptr;
  std::array<std::optional<WalkedDuty>, most_side_by_side> duties_;
  std::vector<std::size_t> under_way_;
};

bool may_go_together(const QuickMarch::Order& a, const QuickMarch::Order& b) {
  return a.columns == b.columns && a.sump == b.sump && a.phases == b.phases;
}

}  // namespace

std::vector<QuickMarch::Marched> QuickMarch::side_by_side(std::span<const Order> orders) {
  std::vector<Marched> found(orders.size());
  thread_local WalkLanes lanes;  // to ask for its memory takes longer than to fill it
  lanes.forget();
  std::size_t from = 0;
  while (from < orders.size()) {
    std::size_t count = 1;
    while (count < most_side_by_side && from + count < orders.size() &&
           may_go_together(orders[from], orders[from + count]))
      ++count;
    Together(orders.subspan(from, count), std::span(found).subspan(from, count), lanes).march();
    from += count;
  }
  return found;
}

Ledger QuickMarch::operator()(std::span<const Stretch> duty, const DutyColumns& columns,
                              std::size_t phases, const SumpDuty& sump,
                              std::vector<double>& oil_K) {
  const Order order{this, duty, &columns, phases, &sump};
  Marched marched = std::move(side_by_side({&order, 1}).front());
  if (marched.failure) std::rethrow_exception(marched.failure);
  oil_K = std::move(marched.oil_K);
  return std::move(marched.ledger);
}

}  // namespace ohmdrag::energy
