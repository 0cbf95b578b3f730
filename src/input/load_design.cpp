#include "ohmdrag/input/load_design.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "input/design_axis.hpp"
#include "input/design_list.hpp"
#include "input/document.hpp"
#include "input/files.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

using study::DesignKind;

/// Rows that a sweep can be asked for; a million of them take a day of a small case.
constexpr std::size_t most_rows = 1'000'000'000;

/// What file and options say together, before anything is made of it.
struct Written {
  std::optional<std::string> kind;
  std::vector<WrittenAxis> axes;
  std::optional<fs::path> list;
  std::optional<long long> points;
  unsigned long long seed = 1;
};

const std::vector<std::string>& kind_words() {
  static const std::vector<std::string> words{"factorial", "list", "quasi-random"};
  return words;
}

void read_design_file(const fs::path& file, Written& out, Problems& problems) {
  const std::optional<FileText> text = read_file(file, problems);
  problems.throw_if_any();
  const Node root = parse_document(text->content, file.string(), problems);
  problems.throw_if_any();
  std::vector<std::string> warnings;
  ReadContext context{problems, warnings, {}, {}};
  TableReader top(context, &root, {});
  TableReader design = top.table("design");
  if (design.has("kind")) out.kind = design.word("kind", kind_words());
  out.points = design.maybe_integer("points");
  if (const auto seed = design.maybe_integer("seed")) {
    if (*seed < 0) design.complain("seed", fmt::format("read {}; expected 0 or more", *seed));
    out.seed = static_cast<unsigned long long>(std::max(0LL, *seed));
  }
  if (const Node* list = design.find("list"); list && !design.text("list").empty())
    out.list = file_named_by(*list);
  design.done();
  if (top.has("axis"))
    for (TableReader& table : top.tables("axis"))
      out.axes.push_back(axis_of_table(table, problems));
  top.done();
}

DesignKind kind_of(const Written& written, Problems& problems) {
  const bool list = written.list.has_value();
  const bool points = written.points.has_value();
  const std::string deduced = list ? "list" : points ? "quasi-random" : "factorial";
  const std::string word = written.kind.value_or(deduced);
  const auto complain = [&](std::string what) { problems.add_for_file("design", std::move(what)); };
  if (list && points)
    complain("has a list of rows and a number of points; expected one of them");
  else if (word != deduced)
    complain(fmt::format("is to be {}, but {}", word,
                         word == "list"           ? "there is no list of rows"
                         : word == "quasi-random" ? "the number of points is missing"
                         : list                   ? "there is a list of rows"
                                                  : "there is a number of points"));
  return static_cast<DesignKind>(std::ranges::find(kind_words(), word) - kind_words().begin());
}

std::size_t factorial_rows(const std::vector<study::DesignAxis>& axes, Problems& problems) {
  std::size_t rows = 1;
  for (const study::DesignAxis& axis : axes) {
    const std::size_t levels = std::max<std::size_t>(1, axis.levels());
    if (rows > most_rows / levels) {
      problems.add_for_file("design", fmt::format("has more than {} rows", most_rows));
      return 0;
    }
    rows *= levels;
  }
  return rows;
}

std::size_t quasi_random_rows(const Written& written, Problems& problems) {
  if (*written.points < 1 || *written.points > static_cast<long long>(most_rows)) {
    problems.add_for_file(
        "design", fmt::format("read {} points; expected 1 to {}", *written.points, most_rows));
    return 0;
  }
  return static_cast<std::size_t>(*written.points);
}

/// All that decides the rows, for the hash.
std::string spelled_out(const study::Design& design, unsigned long long seed) {
  std::string text =
      kind_words()[static_cast<std::size_t>(design.kind)] + fmt::format(" {}", design.rows);
  if (design.kind == DesignKind::quasi_random) text += fmt::format(" {}", seed);
  for (const study::DesignAxis& axis : design.axes) {
    text += fmt::format("\n{}={}|{}|{}|{}|{}|{}", axis.key, axis.unit, axis.spread, axis.from,
                        axis.to, axis.by_ratio, axis.steps);
    for (const std::string& value : axis.values) text += '|' + value;
  }
  return text;
}

study::Design listed(const Written& written, Problems& problems) {
  for (const WrittenAxis& axis : written.axes)
    problems.add(axis.place, axis.key, "an axis beside a list of rows; the list names its keys");
  auto design = read_design_list(*written.list, problems);
  problems.throw_if_any();
  return std::move(*design);
}

study::Design spanned(const Written& written, DesignKind kind, Problems& problems) {
  study::Design design;
  design.kind = kind;
  if (written.axes.empty())
    problems.add_for_file("design", "has no axis",
                          "--axis \"shaft.rotor.diameter=40 mm; 45 mm\", or a file with [[axis]]");
  for (std::size_t a = 0; a < written.axes.size(); ++a) {
    const WrittenAxis& axis = written.axes[a];
    check_key(axis.key, axis.place, problems);
    const auto same = [&](const WrittenAxis& other) { return other.key == axis.key; };
    if (std::any_of(written.axes.begin(), written.axes.begin() + static_cast<std::ptrdiff_t>(a),
                    same))
      problems.add(axis.place, axis.key, "is an axis twice");
    design.axes.push_back(read_axis(axis, kind, problems));
  }
  if (kind == DesignKind::factorial)
    design.rows = factorial_rows(design.axes, problems);
  else
    design.rows = quasi_random_rows(written, problems);
  problems.throw_if_any();
  design.cells = kind == DesignKind::factorial
                     ? study::factorial_cells(design.axes)
                     : study::quasi_random_cells(design.axes, written.seed);
  design.sha256 = sha256(spelled_out(design, written.seed));
  return design;
}

}  // namespace

study::Design load_design(const DesignRequest& request) {
  Problems problems;
  Written written;
  if (request.file) read_design_file(*request.file, written, problems);
  std::vector<WrittenAxis> typed;
  for (std::size_t i = 0; i < request.axes.size(); ++i)
    typed.push_back(axis_of_option(request.axes[i], i + 1, problems));
  // What is typed wins over the file; twice in one of them is a mistake.
  std::erase_if(written.axes, [&](const WrittenAxis& axis) {
    return std::ranges::find(typed, axis.key, &WrittenAxis::key) != typed.end();
  });
  std::ranges::move(typed, std::back_inserter(written.axes));
  if (request.list) written.list = request.list;
  if (request.points) written.points = request.points;
  problems.throw_if_any();

  const DesignKind kind = kind_of(written, problems);
  problems.throw_if_any();
  study::Design design =
      kind == DesignKind::list ? listed(written, problems) : spanned(written, kind, problems);
  design.in_words = fmt::format("{}, {} {}, {} {}", kind_words()[static_cast<std::size_t>(kind)],
                                design.axes.size(), design.axes.size() == 1 ? "axis" : "axes",
                                design.rows, design.rows == 1 ? "row" : "rows");
  return design;
}

}  // namespace ohmdrag::input
