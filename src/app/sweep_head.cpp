#include "app/sweep_head.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <map>

#include "app/version.hpp"

namespace ohmdrag::app {
namespace {

/// Labels of comments that decide no row.
constexpr std::array<std::string_view, 3> for_the_reader{"read from", "note", "caution"};

std::string axis_in_words(const study::DesignAxis& axis) {
  std::string text = axis.key;
  if (axis.levels() == 1)
    text += ": " + axis.level(0);
  else if (axis.levels() > 0)
    text += fmt::format(": {} values, {} … {}", axis.levels(), axis.level(0),
                        axis.level(axis.levels() - 1));
  else if (axis.from != axis.to)
    text += fmt::format(": {} … {}{}", axis.from, axis.to, axis.by_ratio ? ", by ratio" : "");
  if (!axis.unit.empty()) text += ' ' + axis.unit;
  if (!axis.spread.empty()) text += ", each " + axis.spread;
  return text;
}

/// By label, in the order of the head; the names of the columns as "columns".
std::vector<std::pair<std::string, std::string>> deciding(const std::string& head) {
  std::vector<std::pair<std::string, std::string>> out;
  std::size_t at = 0;
  while (at < head.size()) {
    const std::size_t end = std::min(head.find('\n', at), head.size());
    const std::string line = head.substr(at, end - at);
    at = end + 1;
    const std::size_t colon = line.find(": ");
    if (!line.starts_with("# ") || colon == std::string::npos) {
      out.emplace_back("columns", line);
      continue;
    }
    std::string label = line.substr(2, colon - 2);
    if (std::ranges::find(for_the_reader, label) == for_the_reader.end())
      out.emplace_back(std::move(label), line.substr(colon + 2));
  }
  return out;
}

}  // namespace

std::vector<report::SweepComment> sweep_comments(const SweepOrigin& origin) {
  const study::Case& like = *origin.like;
  std::vector<report::SweepComment> comments;
  const auto add = [&](std::string label, std::string text) {
    comments.push_back({std::move(label), std::move(text)});
  };
  add("design sweep", like.title);
  if (like.invented) add("scenario", "invented");
  for (std::size_t i = 0; i < origin.files.size(); ++i) {
    add("read from", origin.files[i].file);
    add(i == 0 ? "case" : "further file", "SHA-256 " + origin.files[i].sha256);
  }
  for (const std::string& set : origin.sets) add("set", set);
  add("design", fmt::format("{}, SHA-256 {}", origin.design->in_words, origin.design->sha256));
  for (const study::DesignAxis& axis : origin.design->axes) add("axis", axis_in_words(axis));
  add("evaluated", origin.draws ? fmt::format("with {} draws, seed {}", origin.samples, like.seed)
                                : "nominally, every number at its middle");
  add("program", fmt::format("ohmdrag {}", version));
  add("baseline", like.baseline);
  add("note",
      "net watts, energy, life gain and dose factor are against the baseline; impedance, voltage "
      "and discharges are those of the end of service");
  add("note", "basic_life_h and modified_life_h are rating lives of all bearings together");
  if (!origin.draws)
    add("note",
        "a nominal row knows no spread: what is chosen, met and said of a benefit holds for the "
        "middle alone; shares of parts and what can be demonstrated need --draws");
  for (const std::string& caution : origin.cautions) add("caution", caution);
  return comments;
}

std::string differences_of_heads(const std::string& one, const std::string& other) {
  std::map<std::string, std::string> texts_of_one, texts_of_other;
  std::vector<std::string> labels;
  const auto collect = [&](const std::string& head, std::map<std::string, std::string>& texts) {
    for (const auto& [label, text] : deciding(head)) {
      texts[label] += text + '\n';
      if (std::ranges::find(labels, label) == labels.end()) labels.push_back(label);
    }
  };
  collect(one, texts_of_one);
  collect(other, texts_of_other);
  std::erase_if(labels, [&](const std::string& label) {
    return texts_of_one[label] == texts_of_other[label];
  });
  return fmt::format("{}", fmt::join(labels, ", "));
}

}  // namespace ohmdrag::app
