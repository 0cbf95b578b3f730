#include "ohmdrag/study/rows_in_order.hpp"

#include <oneapi/tbb/info.h>
#include <oneapi/tbb/parallel_pipeline.h>
#include <oneapi/tbb/task_arena.h>

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <utility>

namespace ohmdrag::study {
namespace {

struct Worked {
  std::size_t row = 0;
  std::string text;
};

/// The first failure of any hand. It is kept until all rows under way have ended: thrown through
/// the pipeline it would cancel the loops that a row runs inside, and these would go on with what
/// is half filled.
class FirstFailure {
 public:
  template <class Function>
  void guard(const Function& function) {
    try {
      function();
    } catch (...) {
      const std::scoped_lock lock(mutex_);
      if (!thrown_) thrown_ = std::current_exception();
      any_ = true;
    }
  }
  bool any() const { return any_; }
  void rethrow_if_any() const {
    if (thrown_) std::rethrow_exception(thrown_);
  }

 private:
  std::mutex mutex_;
  std::atomic<bool> any_ = false;
  std::exception_ptr thrown_;
};

}  // namespace

void rows_in_order(const RowHands& hands) {
  namespace tbb = oneapi::tbb;
  // Enough that no thread waits for the row that is written next, while a slow row holds it up.
  constexpr std::size_t under_way_per_thread = 4;
  const auto threads = static_cast<std::size_t>(std::max(1, tbb::info::default_concurrency()));

  FirstFailure failure;
  const auto next = [&](tbb::flow_control& flow) {
    std::optional<DesignRow> row;
    if (!failure.any()) failure.guard([&] { row = hands.next(); });
    if (row) return std::move(*row);
    flow.stop();
    return DesignRow{};
  };
  const auto work = [&](const DesignRow& row) {
    Worked worked{row.row, {}};
    // A row runs loops of its own in parallel. Isolated: who waits for the end of one must not
    // begin another row on top of it.
    failure.guard([&] { tbb::this_task_arena::isolate([&] { worked.text = hands.work(row); }); });
    return worked;
  };
  const auto take = [&](Worked worked) {
    if (!failure.any()) failure.guard([&] { hands.take(worked.row, std::move(worked.text)); });
  };
  tbb::parallel_pipeline(
      under_way_per_thread * threads,
      tbb::make_filter<void, DesignRow>(tbb::filter_mode::serial_in_order, next) &
          tbb::make_filter<DesignRow, Worked>(tbb::filter_mode::parallel, work) &
          tbb::make_filter<Worked, void>(tbb::filter_mode::serial_in_order, take));
  failure.rethrow_if_any();
}

}  // namespace ohmdrag::study
