#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

/// The built program as a user meets it: arguments in; exit status, standard output and standard
/// error out.
namespace ohmdrag::test {

struct Ran {
  int status = -1;     ///< exit status; 128 + n after signal n, as a shell says it
  std::string out;     ///< standard output
  std::string err;     ///< standard error
  double cpu_s = 0.0;  ///< processor time of the program: does not depend on the machine's load
};

struct Surroundings {
  std::filesystem::path folder;                    ///< to start in; empty: here
  std::map<std::string, std::string> environment;  ///< on top of ours
  std::optional<std::filesystem::path> out_to;     ///< standard output goes into this file
  std::optional<std::size_t> largest_file_bytes;   ///< a write beyond it fails, as on a full disk
  std::optional<int> user;                         ///< run as this user id
  bool on_one_processor = false;
  bool on_terminal = false;         ///< standard output is a terminal
  bool errors_on_terminal = false;  ///< standard error is one
};

using Arguments = std::vector<std::string>;

/// Path of the program that was built.
std::string built_program();

/// Any program with arguments.
Ran ran(const Arguments& command, const Surroundings& around = {});

/// ohmdrag with arguments.
Ran ohmdrag(Arguments arguments, const Surroundings& around = {});

/// The same, remembered: the long commands run once for all tests that look at their result.
const Ran& ohmdrag_once(const Arguments& arguments);

/// The shipped cases, cases/*/case.toml.
std::vector<std::filesystem::path> shipped_cases();
std::filesystem::path shipped_case(const std::string& name);

std::string file_text(const std::filesystem::path& file);
std::vector<std::string> lines_of(const std::string& text);

/// A folder of its own for the files of one test.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  std::filesystem::path write(const std::string& file, const std::string& text) const;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

}  // namespace ohmdrag::test
