#include "ohmdrag/input/case_files.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "input/files.hpp"
#include "ohmdrag/input/input_error.hpp"
#include "ohmdrag/input/trip_file.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

class Collector {
 public:
  explicit Collector(std::size_t most_bytes) : left_(most_bytes) {}

  void add(const std::string& name, const std::string& expected_sha256) {
    CaseFile file = read(name);
    if (file.sha256 != expected_sha256) refuse(name);
    keep(std::move(file));
  }

  /// A folder of trips has one hash for all of them, and every file its own.
  void add_folder(const std::string& name, const std::string& expected_sha256) {
    std::string listing;
    std::vector<CaseFile> files;
    for (const fs::path& trip : trip_files(name)) {
      files.push_back(read(trip.string()));
      listing += files.back().sha256 + "  " + trip.filename().string() + '\n';
    }
    if (sha256(listing) != expected_sha256) refuse(name);
    for (CaseFile& file : files) keep(std::move(file));
  }

  std::vector<CaseFile> files() && { return std::move(files_); }

 private:
  [[noreturn]] static void refuse(const std::string& name) {
    Problem problem;
    problem.file = name;
    problem.what = "is no longer what the case was read from";
    problem.hint = "leave the files of a case alone while it is evaluated";
    throw InputError({problem});
  }

  static CaseFile read(const std::string& name) {
    std::ifstream in(name, std::ios::binary);
    if (!in) refuse(name);
    CaseFile file{.name = name, .content = {std::istreambuf_iterator<char>(in), {}}, .sha256 = {}};
    file.sha256 = sha256(file.content);
    return file;
  }

  void keep(CaseFile file) {
    if (file.content.size() > left_)
      file.content.clear();
    else
      left_ -= file.content.size();
    files_.push_back(std::move(file));
  }

  std::size_t left_;
  std::vector<CaseFile> files_;
};

}  // namespace

std::vector<CaseFile> case_files(const study::Provenance& provenance, std::size_t most_bytes) {
  Collector collector(most_bytes);
  collector.add(provenance.file, provenance.sha256);
  for (const auto& [file, hash] : provenance.includes) {
    if (fs::is_directory(file))
      collector.add_folder(file, hash);
    else
      collector.add(file, hash);
  }
  return std::move(collector).files();
}

}  // namespace ohmdrag::input
