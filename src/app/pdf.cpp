#include "app/pdf.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string_view>
#include <thread>
#include <vector>

#include "app/files.hpp"

namespace ohmdrag::app {

namespace fs = std::filesystem;

namespace {

constexpr auto patience = std::chrono::seconds(120);
constexpr auto between_looks = std::chrono::milliseconds(20);

/// A folder of its own that goes with all that is in it.
class Workplace {
 public:
  Workplace() {
    std::string name = (fs::temp_directory_path() / "ohmdrag-pdf-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr)
      throw WriteError("cannot make a temporary folder for the PDF");
    path = name;
  }
  ~Workplace() {
    std::error_code ignored;
    fs::remove_all(path, ignored);
  }
  Workplace(const Workplace&) = delete;
  Workplace& operator=(const Workplace&) = delete;

  fs::path path;
};

/// Runs a program without input or output and ends it, with all it has started, when it takes too
/// long. Its exit status; -1 if it was ended.
int status_of(const std::vector<std::string>& command) {
  std::vector<char*> words;
  for (const std::string& word : command) words.push_back(const_cast<char*>(word.c_str()));
  words.push_back(nullptr);
  const pid_t child = ::fork();
  if (child < 0) throw WriteError("cannot start " + command.front());
  if (child == 0) {
    ::setpgid(0, 0);
    const int nowhere = ::open("/dev/null", O_RDWR);
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) ::dup2(nowhere, stream);
    ::execv(words.front(), words.data());
    ::_exit(127);
  }
  ::setpgid(child, child);
  const auto end = std::chrono::steady_clock::now() + patience;
  int status = 0;
  while (::waitpid(child, &status, WNOHANG) == 0) {
    if (std::chrono::steady_clock::now() > end) {
      ::kill(-child, SIGKILL);
      ::waitpid(child, &status, 0);
      return -1;
    }
    std::this_thread::sleep_for(between_looks);
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/// The same with one date in place of that of printing, so that a case always gives the same bytes.
/// Written over in place: offsets within the file stay true.
/// Source  ISO 32000-1:2008, 7.9.4 (dates) and 14.3.3 (document information), from memory.
std::string without_time(std::string pdf) {
  constexpr std::string_view always = "19800101000000";
  for (const std::string_view key : {"/CreationDate (D:", "/ModDate (D:"})
    for (std::size_t at = pdf.find(key); at != std::string::npos; at = pdf.find(key, at)) {
      at += key.size();
      const std::size_t end = pdf.find_first_not_of("0123456789", at);
      if (end == at + always.size()) pdf.replace(at, always.size(), always);
    }
  return pdf;
}

}  // namespace

std::optional<fs::path> installed_chromium() {
  const char* path = std::getenv("PATH");
  std::istringstream folders(path == nullptr ? "" : path);
  std::vector<fs::path> all;
  for (std::string folder; std::getline(folders, folder, ':');) all.emplace_back(folder);
  for (const char* name : {"chromium", "chromium-browser", "chrome"})
    for (const fs::path& folder : all)
      if (::access((folder / name).c_str(), X_OK) == 0) return folder / name;
  return std::nullopt;
}

void print_pdf(const std::string& html, const fs::path& target) {
  const auto chromium = installed_chromium();
  if (!chromium)
    throw WriteError(fmt::format(
        "cannot write {}: a PDF is printed by Chromium, and none is installed (looked for chromium "
        "on PATH); report.html can be printed by any browser",
        target.string()));
  const Workplace work;
  write_file(work.path / "report.html", html);
  const fs::path made = work.path / "report.pdf";
  std::vector<std::string> command{chromium->string(),
                                   "--headless",
                                   "--disable-gpu",
                                   "--disable-extensions",
                                   "--disable-background-networking",
                                   "--no-first-run",
                                   "--no-pdf-header-footer",
                                   "--user-data-dir=" + (work.path / "profile").string(),
                                   "--print-to-pdf=" + made.string()};
  // Its sandbox refuses the superuser, as whom builds in containers run.
  if (::geteuid() == 0) command.push_back("--no-sandbox");
  command.push_back("file://" + (work.path / "report.html").string());
  const int status = status_of(command);
  if (status == -1)
    throw WriteError(fmt::format("cannot write {}: {} was not done within {} s", target.string(),
                                 chromium->string(), patience.count()));
  std::ifstream in(made, std::ios::binary);
  const std::string pdf{std::istreambuf_iterator<char>(in), {}};
  if (status != 0 || !pdf.starts_with("%PDF"))
    throw WriteError(fmt::format("cannot write {}: {} failed with status {}", target.string(),
                                 chromium->string(), status));
  write_file(target, without_time(pdf));
}

}  // namespace ohmdrag::app
