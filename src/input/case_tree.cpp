#include "ohmdrag/input/case_tree.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <mutex>
#include <optional>
#include <utility>

#include "input/case_from_tree.hpp"
#include "input/files.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

struct CaseTree::Inside {
  Node tree;
  study::Provenance provenance;
  LoadOptions options;
  std::vector<study::Provenance::Include> files;
  // A catalogue parses its files when they are asked for, so it serves one thread at a time; what
  // it has parsed is kept for the next.
  std::mutex mutex;
  std::vector<Catalogue> idle;

  std::optional<Catalogue> take_idle() {
    const std::scoped_lock lock(mutex);
    if (idle.empty()) return std::nullopt;
    Catalogue catalogue = std::move(idle.back());
    idle.pop_back();
    return catalogue;
  }
  void give_back(Catalogue catalogue) {
    const std::scoped_lock lock(mutex);
    idle.push_back(std::move(catalogue));
  }

  struct Borrowed {
    explicit Borrowed(Inside& from) : owner(from), catalogue(from.take_idle()) {
      if (!catalogue) catalogue = load_catalogue(owner.options.data_folder);
    }
    ~Borrowed() { owner.give_back(std::move(*catalogue)); }
    Borrowed(const Borrowed&) = delete;
    Borrowed& operator=(const Borrowed&) = delete;

    Inside& owner;
    std::optional<Catalogue> catalogue;
  };
};

namespace {

/// Every regular file of a folder and of those in it, by name.
std::vector<study::Provenance::Include> files_in(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file()) files.push_back(entry.path());
  std::ranges::sort(files);
  std::vector<study::Provenance::Include> hashed;
  for (const fs::path& file : files) {
    std::ifstream in(file, std::ios::binary);
    hashed.push_back({file.string(), sha256(std::string(std::istreambuf_iterator<char>(in), {}))});
  }
  return hashed;
}

}  // namespace

CaseTree::CaseTree(const fs::path& file, const LoadOptions& options)
    : inside_(std::make_unique<Inside>()) {
  Problems problems;
  inside_->tree = read_case_tree(file, problems, inside_->provenance);
  problems.throw_if_any();
  inside_->options = options;
  inside_->files.push_back({inside_->provenance.file, inside_->provenance.sha256});
  const auto add = [&](const std::vector<study::Provenance::Include>& more) {
    inside_->files.insert(inside_->files.end(), more.begin(), more.end());
  };
  add(inside_->provenance.includes);
  if (!options.data_folder) return;
  const Inside::Borrowed complains_of_a_folder_that_is_none(*inside_);
  add(files_in(*options.data_folder));
}

CaseTree::~CaseTree() = default;

const std::vector<study::Provenance::Include>& CaseTree::files() const { return inside_->files; }

study::Case CaseTree::with(std::span<const std::string> sets) const {
  std::vector<std::string> all = inside_->options.sets;
  all.insert(all.end(), sets.begin(), sets.end());
  const Inside::Borrowed borrowed(*inside_);
  Problems problems;
  return case_from_tree(inside_->tree, inside_->provenance, problems, all, *borrowed.catalogue);
}

}  // namespace ohmdrag::input
