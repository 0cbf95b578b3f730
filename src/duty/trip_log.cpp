#include "ohmdrag/duty/trip_log.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "duty/csv_scan.hpp"
#include "duty/trip_header.hpp"
#include "duty/trip_pieces.hpp"

namespace ohmdrag::duty {

namespace {

/// Beyond this a file is no table.
constexpr std::size_t longest_line = 1'000'000;

std::string placed(std::size_t line, const std::string& column, const std::string& what) {
  if (line == 0) return what;
  if (column.empty()) return fmt::format("line {}: {}", line, what);
  return fmt::format("line {}, column \"{}\": {}", line, column, what);
}

}  // namespace

TripError::TripError(std::size_t line, std::string column, const std::string& what)
    : std::invalid_argument(placed(line, column, what)), line_(line), column_(std::move(column)) {}

/// One log while it arrives.
struct TripReader::Log {
  explicit Log(TripForm of) : form_(std::move(of)), units_(units_of(form_)) {
    const std::string_view separators = ",;\t", marks = ".,";
    if ((form_.separator && separators.find(*form_.separator) == std::string_view::npos) ||
        (form_.decimal && marks.find(*form_.decimal) == std::string_view::npos))
      throw std::invalid_argument(
          "log: columns are separated by commas, semicolons or tabs; the decimal mark is a point "
          "or a comma");
    clear();
  }

  void clear();
  void feed(std::string_view text);
  Trip finish();

 private:
  using Row = std::array<double, trip_quantities>;

  void take_line(std::string_view row);
  bool is_skipped(std::string_view row) const;
  void take_row(std::string_view row);
  double value_of(std::size_t quantity, std::string_view cell);
  double seconds_of(const DateTime& stamp);
  void add(const Row& row);
  void close_group();
  [[noreturn]] void refuse(const std::string& what, std::size_t quantity = trip_quantities) const {
    throw TripError(line_, quantity < trip_quantities ? units_[quantity]->name : "", what);
  }

  TripForm form_;
  TripUnits units_;
  std::string pending_;  ///< a line whose end has not arrived
  std::size_t line_ = 0;
  std::optional<TripHeader> header_;
  char decimal_ = 0;
  std::optional<std::int64_t> first_second_;  ///< of date-times
  bool with_offset_ = false;
  double speed_before_ = std::numeric_limits<double>::quiet_NaN();  ///< as written
  double speed_step_ = std::numeric_limits<double>::infinity();
  Row group_{};  ///< sums over the rows of one time
  std::size_t group_size_ = 0;
  double group_time_ = 0.0;
  double start_ = 0.0;
  TripPiece samples_;
  TripReport report_;
};

void TripReader::Log::clear() {
  pending_.clear();
  line_ = 0;
  header_.reset();
  decimal_ = form_.decimal.value_or(char{0});
  first_second_.reset();
  with_offset_ = false;
  speed_before_ = std::numeric_limits<double>::quiet_NaN();
  speed_step_ = std::numeric_limits<double>::infinity();
  group_size_ = 0;
  samples_ = {};
  report_ = {};
}

void TripReader::Log::feed(std::string_view text) {
  while (true) {
    const std::size_t end = text.find('\n');
    if ((end == std::string_view::npos ? text.size() : end) + pending_.size() > longest_line)
      throw TripError(line_ + 1, {}, "the line does not end; expected a table of text");
    if (end == std::string_view::npos) break;
    if (pending_.empty()) {
      take_line(text.substr(0, end));
    } else {
      pending_ += text.substr(0, end);
      take_line(pending_);
      pending_.clear();
    }
    text.remove_prefix(end + 1);
  }
  pending_ += text;
}

void TripReader::Log::take_line(std::string_view row) {
  ++line_;
  if (line_ == 1) {
    if (row.starts_with("\xEF\xBB\xBF")) row.remove_prefix(3);
    if (row.starts_with("\xFF\xFE") || row.starts_with("\xFE\xFF"))
      refuse("the text is UTF-16; expected UTF-8");
  }
  if (row.ends_with('\r')) row.remove_suffix(1);
  if (is_skipped(row)) return;
  if (header_)
    take_row(row);
  else
    header_ = header_of(row, line_, units_, form_.separator);
}

bool TripReader::Log::is_skipped(std::string_view row) const {
  constexpr std::string_view empty_cells = " \t;,";
  const std::size_t first = row.find_first_not_of(empty_cells);
  return first == std::string_view::npos || (row[first] == '#' && row[0] != ',' && row[0] != ';');
}

void TripReader::Log::take_row(std::string_view row) {
  CellScan scan(row, header_->separator);
  Row values{};
  for (std::size_t cell = 0; cell < header_->quantity.size(); ++cell) {
    if (!scan.more())
      refuse(fmt::format("the row has {} cells; expected {}", cell, header_->quantity.size()));
    const auto text = scan.next();
    if (!text) refuse(fmt::format("a quote is not closed in cell {}", cell + 1));
    if (const std::size_t quantity = header_->quantity[cell]; quantity < trip_quantities)
      values[quantity] = value_of(quantity, *text);
  }
  while (scan.more()) {
    const auto text = scan.next();
    if (!text || !text->empty())
      refuse(
          fmt::format("the row has more than {} cells; a decimal comma beside commas between "
                      "columns needs quotes",
                      header_->quantity.size()));
  }
  add(values);
}

double TripReader::Log::value_of(std::size_t quantity, std::string_view cell) {
  const TripUnit& unit = *units_[quantity];
  if (unit.date_time) {
    const auto stamp = date_time_in(cell);
    if (!stamp)
      refuse(fmt::format("read \"{}\"; expected a date-time of {}", cell, date_time_unit),
             quantity);
    return seconds_of(*stamp);
  }
  const auto number = number_in(cell, decimal_);
  if (!number)
    refuse(cell.empty()
               ? std::string("the cell is empty")
               : fmt::format("read \"{}\"; expected a number{}", cell,
                             decimal_ == 0 ? ""
                                           : fmt::format(" with the decimal mark {}",
                                                         decimal_ == ',' ? "comma" : "point")),
           quantity);
  if (quantity == trip_speed) {
    if (!(*number >= 0.0)) refuse(fmt::format("negative speed {}", cell), quantity);
    const double step = std::abs(*number - speed_before_);
    if (step > 0.0 && step < speed_step_) speed_step_ = step;
    speed_before_ = *number;
  }
  return *number * unit.factor + unit.offset;
}

double TripReader::Log::seconds_of(const DateTime& stamp) {
  if (!first_second_) {
    first_second_ = stamp.whole_s;
    with_offset_ = stamp.with_offset;
    report_.without_offset = !with_offset_;
  } else if (stamp.with_offset != with_offset_) {
    refuse("some date-times name their offset from UTC and some do not", trip_time);
  }
  return static_cast<double>(stamp.whole_s - *first_second_) + stamp.part_s;
}

void TripReader::Log::add(const Row& row) {
  if (group_size_ > 0 && row[trip_time] == group_time_) {
    for (std::size_t q = 0; q < group_.size(); ++q) group_[q] += row[q];
    ++group_size_;
    ++report_.duplicates;
    return;
  }
  if (group_size_ > 0) {
    if (!(row[trip_time] > group_time_))
      refuse(fmt::format("time runs back by {:.6g} s", group_time_ - row[trip_time]), trip_time);
    close_group();
  } else {
    start_ = row[trip_time];
  }
  group_ = row;
  group_size_ = 1;
  group_time_ = row[trip_time];
}

void TripReader::Log::close_group() {
  const auto mean = [this](TripQuantity q) { return group_[q] / static_cast<double>(group_size_); };
  samples_.time.push_back(Time::from_value(group_time_ - start_));
  samples_.speed.push_back(Speed::from_value(mean(trip_speed)));
  if (units_[trip_shaft_speed])
    samples_.shaft_speed.push_back(AngularVelocity::from_value(mean(trip_shaft_speed)));
  if (units_[trip_torque]) samples_.torque.push_back(Torque::from_value(mean(trip_torque)));
  if (units_[trip_sump_temperature])
    samples_.sump_temperature.push_back(Temperature::from_value(mean(trip_sump_temperature)));
  if (units_[trip_ambient_temperature])
    samples_.ambient_temperature.push_back(Temperature::from_value(mean(trip_ambient_temperature)));
  if (units_[trip_heat]) samples_.heat.push_back(Power::from_value(mean(trip_heat)));
}

Trip TripReader::Log::finish() {
  if (!pending_.empty()) take_line(std::exchange(pending_, {}));
  if (!header_) throw TripError(0, {}, "the log is empty");
  if (group_size_ > 0) close_group();
  if (std::isfinite(speed_step_))
    report_.speed_step = Speed::from_value(speed_step_ * units_[trip_speed]->factor);
  return trip_of(std::move(samples_), std::move(report_));
}

TripReader::TripReader(TripForm form) : log_(std::make_unique<Log>(std::move(form))) {}
TripReader::~TripReader() = default;
TripReader::TripReader(TripReader&&) noexcept = default;
TripReader& TripReader::operator=(TripReader&&) noexcept = default;

void TripReader::feed(std::string_view text) {
  try {
    log_->feed(text);
  } catch (const TripError&) {
    log_->clear();
    throw;
  }
}

Trip TripReader::finish() {
  try {
    Trip trip = log_->finish();
    log_->clear();
    return trip;
  } catch (const TripError&) {
    log_->clear();
    throw;
  }
}

void TripReader::clear() { log_->clear(); }

Trip trip_from_csv(std::string_view text, const TripForm& form) {
  TripReader reader(form);
  reader.feed(text);
  return reader.finish();
}

}  // namespace ohmdrag::duty
