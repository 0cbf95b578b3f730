#include "report/workbook.hpp"

#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <stdexcept>
#include <system_error>

#include "ohmdrag/quantity/print.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

// ECMA-376 and the specification of limits of its programs (from memory).
constexpr std::size_t longest_sheet_name = 31;
constexpr std::size_t longest_text = 32767;
// 2000-01-01 00:00 UTC: the bytes shall not hang on the clock.
constexpr std::time_t date_inside = 946684800;

/// The text in at most so many bytes, cut between characters.
std::string cut(std::string text, std::size_t bytes) {
  constexpr std::string_view dots = "…";
  if (text.size() <= bytes) return text;
  std::size_t end = bytes - dots.size();
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  return text.substr(0, end) + std::string(dots);
}

/// Decimals after the point of the number in a printed text; none: it has an exponent.
std::size_t decimals_in(const std::string& printed, bool& exponent) {
  exponent = printed.find('e') != std::string::npos;
  std::size_t most = 0;
  for (std::size_t at = printed.find('.'); at != std::string::npos;
       at = printed.find('.', at + 1)) {
    const std::size_t end =
        std::min(printed.find_first_not_of("0123456789", at + 1), printed.size());
    most = std::max(most, end - at - 1);
  }
  return most;
}

}  // namespace

std::string number_format(const Interval& value) {
  bool exponent = false;
  const std::size_t decimals = decimals_in(print_interval(value), exponent);
  if (exponent) return "0.00E+00";
  std::string format = "0";
  if (decimals > 0) format += '.' + std::string(decimals, '0');
  return format;
}

Workbook::Workbook() : file_(::memfd_create("workbook", MFD_CLOEXEC)) {
  if (file_ < 0) throw std::system_error(errno, std::generic_category(), "workbook");
  const std::string path = "/proc/self/fd/" + std::to_string(file_);
  book_ = workbook_new(path.c_str());
  if (!book_) throw std::runtime_error("workbook: out of memory");
  lxw_doc_properties properties{};
  properties.created = date_inside;
  check(workbook_set_properties(book_, &properties));
  head_ = workbook_add_format(book_);
  format_set_bold(head_);
  format_set_text_wrap(head_);
  format_set_align(head_, LXW_ALIGN_VERTICAL_BOTTOM);
  format_set_bottom(head_, LXW_BORDER_THIN);
  title_ = workbook_add_format(book_);
  format_set_bold(title_);
  format_set_text_wrap(title_);
  wrapped_ = workbook_add_format(book_);
  format_set_text_wrap(wrapped_);
  format_set_align(wrapped_, LXW_ALIGN_VERTICAL_TOP);
}

Workbook::~Workbook() {
  if (book_) workbook_close(book_);
  if (file_ >= 0) ::close(file_);
}

void Workbook::check(lxw_error error) {
  if (error != LXW_NO_ERROR)
    throw std::runtime_error(std::string("workbook: ") + lxw_strerror(error));
}

lxw_worksheet* Workbook::sheet(const std::string& name) {
  std::string fitting = name.substr(0, longest_sheet_name);
  if (const int earlier = names_[fitting]++; earlier > 0) {
    const std::string number = ' ' + std::to_string(earlier + 1);
    fitting = name.substr(0, longest_sheet_name - number.size()) + number;
  }
  lxw_worksheet* sheet = workbook_add_worksheet(book_, fitting.c_str());
  if (!sheet) throw std::runtime_error("workbook: no sheet \"" + fitting + '"');
  return sheet;
}

void Workbook::text(lxw_worksheet* sheet, std::size_t row, std::size_t column,
                    const std::string& text, lxw_format* format) {
  if (text.empty()) return;
  check(worksheet_write_string(sheet, static_cast<lxw_row_t>(row), static_cast<lxw_col_t>(column),
                               cut(harmless(text), longest_text).c_str(), format));
}

void Workbook::number(lxw_worksheet* sheet, std::size_t row, std::size_t column, double value,
                      const std::string& format) {
  if (!std::isfinite(value)) return;
  lxw_format*& made = numbers_[format];
  if (!made) {
    made = workbook_add_format(book_);
    format_set_num_format(made, format.c_str());
    format_set_align(made, LXW_ALIGN_VERTICAL_TOP);
  }
  check(worksheet_write_number(sheet, static_cast<lxw_row_t>(row), static_cast<lxw_col_t>(column),
                               value, made));
}

lxw_chart* Workbook::chart(lxw_chart_type type) {
  return workbook_add_chart(book_, static_cast<std::uint8_t>(type));
}

std::string Workbook::bytes() {
  lxw_workbook* book = book_;
  book_ = nullptr;
  check(workbook_close(book));
  std::string out;
  std::array<char, 65536> block{};
  if (::lseek(file_, 0, SEEK_SET) < 0)
    throw std::system_error(errno, std::generic_category(), "workbook");
  for (ssize_t n = 0; (n = ::read(file_, block.data(), block.size())) != 0;) {
    if (n < 0) throw std::system_error(errno, std::generic_category(), "workbook");
    out.append(block.data(), static_cast<std::size_t>(n));
  }
  return out;
}

}  // namespace ohmdrag::report
