#pragma once

#include <xlsxwriter.h>

#include <cstddef>
#include <map>
#include <string>

#include "report/data_tables.hpp"

/// A workbook on libxlsxwriter that cannot be given a formula by a text.
namespace ohmdrag::report {

class Workbook {
 public:
  Workbook();
  ~Workbook();
  Workbook(const Workbook&) = delete;
  Workbook& operator=(const Workbook&) = delete;

  /// A sheet of that name, cut and numbered where a workbook asks for it.
  lxw_worksheet* sheet(const std::string& name);
  void text(lxw_worksheet* sheet, std::size_t row, std::size_t column, const std::string& text,
            lxw_format* format = nullptr);
  /// Nothing where the number does not exist.
  void number(lxw_worksheet* sheet, std::size_t row, std::size_t column, double value,
              const std::string& format);

  lxw_chart* chart(lxw_chart_type type);
  lxw_format* head() const { return head_; }
  lxw_format* title() const { return title_; }
  lxw_format* wrapped() const { return wrapped_; }

  /// The file. Call it once, at the end.
  std::string bytes();

 private:
  static void check(lxw_error error);

  int file_ = -1;
  lxw_workbook* book_ = nullptr;
  lxw_format* head_ = nullptr;
  lxw_format* title_ = nullptr;
  lxw_format* wrapped_ = nullptr;
  std::map<std::string, lxw_format*> numbers_;
  std::map<std::string, int> names_;
};

/// "0.00": the decimals that the interval bears when it is printed; "0.0E+00" beyond what reads
/// well.
std::string number_format(const Interval& value);

/// A sheet with the three charts and the figures they show, as far as the tables have them: what
/// each variant costs and buys, watts per component, impedance over frequency.
void add_charts(Workbook& book, const std::vector<DataTable>& tables);

}  // namespace ohmdrag::report
