#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <memory>
#include <optional>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/files.hpp"
#include "app/interrupt.hpp"
#include "app/progress_line.hpp"
#include "app/row_file.hpp"
#include "app/sweep_head.hpp"
#include "app/sweep_rows.hpp"
#include "ohmdrag/input/case_tree.hpp"
#include "ohmdrag/input/load_design.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/sweep_csv.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "ohmdrag/study/other_editions.hpp"
#include "ohmdrag/study/rows_in_order.hpp"

namespace ohmdrag::app {
namespace {

struct SweepOptions : Common {
  std::filesystem::path file;
  input::DesignRequest design;
  bool draws = false;
  std::optional<std::filesystem::path> out;
  bool resume = false;
  Reader reader;
};

/// The case, what it includes and the data folder; then what the case itself names.
std::vector<study::Provenance::Include> files_of(const input::CaseTree& tree,
                                                 const study::Case& question) {
  std::vector<study::Provenance::Include> files = tree.files();
  for (const auto& more : question.provenance.includes)
    if (std::ranges::find(files, more.file, &study::Provenance::Include::file) == files.end())
      files.push_back(more);
  return files;
}

/// Those, a file of the case with the hash of its open part.
std::vector<study::Provenance::Include> files_for(const SweepOptions& options,
                                                  const input::CaseTree& tree,
                                                  const study::Case& question) {
  std::vector<study::Provenance::Include> files = files_of(tree, question);
  if (options.reader)
    for (study::Provenance::Include& file : files)
      if (file.file == options.file.string())
        file.sha256 = hash_for(level_of(options.reader), options.file, question, file.sha256);
  return files;
}

std::vector<std::string> sets_for(const SweepOptions& options, const study::Case& question) {
  const auto sealed = study::sealed_numbers(question, level_of(options.reader));
  std::vector<std::string> sets = options.sets;
  for (std::string& set : sets) set = study::change_for(set, sealed);
  return sets;
}

RowFile file_of(const SweepOptions& options, const std::string& head) {
  if (!options.resume || !std::filesystem::exists(*options.out))
    return RowFile::begin(*options.out, head);
  RowFile file = RowFile::go_on(*options.out);
  if (const std::string others = differences_of_heads(file.head(), head); !others.empty())
    throw UsageError(
        fmt::format("{} was begun with another {}; it cannot be gone on with. Take the "
                    "change back or name another file",
                    options.out->string(), others));
  return file;
}

/// Rows from `first` on, in order, until they end or somebody interrupts.
/// \return how many rows of the design are written
std::size_t write_rows(SweepRows& rows, const study::Design& design, const report::SweepCsv& csv,
                       std::size_t first, bool with_progress,
                       const std::function<void(const std::string&)>& write) {
  std::size_t begun = first, written = first;
  ProgressLine line;
  const auto next = [&]() -> std::optional<study::DesignRow> {
    if (begun == design.rows || InterruptWatch::interrupted()) return std::nullopt;
    study::DesignRow row{begun, design.cells(begun)};
    ++begun;
    return row;
  };
  const auto work = [&](const study::DesignRow& row) { return rows.lines(row, csv); };
  const auto take = [&](std::size_t row, const std::string& text) {
    write(text);
    written = row + 1;
    if (!with_progress || !line.is_due()) return;
    const std::size_t done = written - first;
    line.show(fmt::format("row {} of {}, {:.3g} rows/s, {}", written, design.rows,
                          static_cast<double>(done) / line.seconds(),
                          line.left_in_words(done, design.rows - first)));
  };
  study::rows_in_order({next, work, take});
  line.wipe();
  return written;
}

/// What a run did, for whoever reads standard output or standard error.
struct Done {
  std::string file;
  std::size_t first, written, all, refused;

  bool complete() const { return written == all; }
};

std::string in_words(const Done& done) {
  if (done.first == done.all)
    return fmt::format("{} is complete already: {} rows", done.file, done.all);
  std::string text = fmt::format("wrote {}: rows {} to {} of {}, {} of them refused", done.file,
                                 done.first + 1, done.written, done.all, done.refused);
  if (done.written == done.first) text = fmt::format("wrote no row to {}", done.file);
  if (!done.complete()) text += "; stopped, and the same command with --resume goes on";
  return text;
}

std::string as_json(const Done& done) {
  return report::json_table(
      "sweep",
      {"file", "rows", "rows written", "first row of this run", "refused in this run", "complete"},
      {{done.file, fmt::format("{}", done.all), fmt::format("{}", done.written),
        fmt::format("{}", done.first + 1), fmt::format("{}", done.refused),
        done.complete() ? "yes" : "no"}});
}

Exit into_file(const SweepOptions& options, SweepRows& rows, const study::Design& design,
               const report::SweepCsv& csv, const std::string& head) {
  RowFile file = file_of(options, head);
  Done done{options.out->string(), file.rows(), file.rows(), design.rows, 0};
  if (!done.complete()) {
    done.written = write_rows(rows, design, csv, done.first, !options.quiet && errors_on_terminal(),
                              [&](const std::string& lines) { file.add(lines); });
    file.close();
  }
  done.refused = rows.refused();
  if (options.json) std::cout << as_json(done);
  if (!options.quiet || !done.complete()) std::cerr << in_words(done) << '\n';
  return done.complete() ? Exit::done : Exit::failed;
}

Exit onto_screen(SweepRows& rows, const study::Design& design, const report::SweepCsv& csv,
                 const std::string& head) {
  std::cout << head;
  const std::size_t written = write_rows(rows, design, csv, 0, false, [](const std::string& lines) {
    std::cout << lines << std::flush;
    if (!std::cout) throw WriteError("cannot write to standard output");
  });
  if (written == design.rows) return Exit::done;
  std::cerr << fmt::format(
      "stopped after row {} of {}; with --out the rows stand in a file that "
      "can be gone on with\n",
      written, design.rows);
  return Exit::failed;
}

Exit run(const SweepOptions& options) {
  if (options.json && !options.out)
    throw UsageError("--json says what was written; name a file for the rows with --out");
  if (options.resume && !options.out)
    throw UsageError("--resume needs the file to go on with: --out");
  const study::Design design = input::load_design(options.design);
  const auto read = read_for(options.reader, options.file, [&] {
    return std::make_unique<input::CaseTree>(options.file,
                                             input::LoadOptions{options.sets, options.data_folder});
  });
  const input::CaseTree& tree = *read;
  SweepRows rows(tree, design, options.draws, options.sets.size(), level_of(options.reader));
  SoundRow sound = read_for(options.reader, options.file, [&] { return rows.first_sound_row(); });
  sound.question.title = study::without_sealed(
      sound.question.title, study::sealed_numbers(sound.question, level_of(options.reader)));
  study::refuse_to_sweep_sealed(level_of(options.reader), sound.question, design);
  const report::SweepCsv csv(design, sound.headlines, options.draws);
  const std::string head = csv.head(
      sweep_comments({&sound.question, &design, files_for(options, tree, sound.question),
                      sets_for(options, sound.question), options.draws,
                      sound.question.samples > 0 ? sound.question.samples : study::default_samples,
                      sound.headlines.cautions}));
  if (options.reader) note_edition(options.reader, sound.question, "{}", options.quiet);
  const InterruptWatch watch;
  return options.out ? into_file(options, rows, design, csv, head)
                     : onto_screen(rows, design, csv, head);
}

}  // namespace

void declare_sweep_command(CLI::App& cli, Exit& exit) {
  auto o = std::make_shared<SweepOptions>();
  CLI::App* command =
      cli.add_subcommand("sweep", "Many rows of values for keys of a case, as one CSV table");
  command->add_option("CASE", o->file, "The case file")->required();
  command
      ->add_option("--axis", o->design.axes,
                   "A key and what it takes: \"KEY=A; B; C\", \"KEY=A to B in 6 steps\", the same "
                   "\"by ratio\"; the last axis turns fastest")
      ->type_name("KEY=VALUES")
      ->allow_extra_args(false);
  command->add_option("--design", o->design.file, "TOML file with [design] and [[axis]]")
      ->type_name("FILE");
  command
      ->add_option("--list", o->design.list,
                   "CSV file whose rows are the design, its columns named by keys: \"KEY [unit]\"")
      ->type_name("FILE");
  command
      ->add_option("--points", o->design.points,
                   "So many quasi-random points between the ends of all axes")
      ->type_name("N");
  command->add_flag("--draws", o->draws,
                    "Every row with the draws of the case, figures with their 95 % intervals; else "
                    "every number at its middle");
  command
      ->add_option("--out", o->out,
                   "File for the table, compressed if it ends in .gz; else standard output")
      ->type_name("FILE");
  command->add_flag("--resume", o->resume, "Go on with that file after its last whole row");
  add_reader(*command, o->reader);
  add_common(*command, *o);
  command->footer(
      "Example: ohmdrag sweep cases/parcel-van/case.toml --axis \"shaft.rotor.diameter=40 mm; 45 "
      "mm\"");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app
