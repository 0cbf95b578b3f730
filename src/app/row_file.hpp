#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

#include "app/row_scan.hpp"

namespace ohmdrag::app {

/// A file that grows by whole rows, plain or, if its name ends in .gz, as gzip members of
/// `rows_of_member` rows each: what stands in it is a valid file at any time, whoever ends the
/// program, and its bytes do not depend on how often it was ended and gone on with. One program at
/// a time.
class RowFile {
 public:
  /// A new file with its head, which appears as a whole.
  /// \throws UsageError if there is a file already, WriteError
  static RowFile begin(const std::filesystem::path& file, const std::string& head);
  /// A file that was begun before; nothing is changed until the first row.
  /// \throws UsageError if it is no file of a sweep or another program writes it, WriteError
  static RowFile go_on(const std::filesystem::path& file);

  RowFile(RowFile&& other) noexcept;
  RowFile& operator=(RowFile&&) = delete;
  ~RowFile();

  const std::string& head() const { return found_.head; }
  std::size_t rows() const { return found_.rows; }  ///< that are in it

  /// The lines of the next row.
  /// \throws WriteError; what is in the file stays valid
  void add(const std::string& lines);
  /// Writes what no member holds yet, and has it reach the disk.
  void close();

 private:
  RowFile(std::filesystem::path file, RowsFound found, int descriptor);
  void flush();
  void write(const std::string& bytes);
  [[noreturn]] void fail(int error) const;

  std::filesystem::path file_;
  RowsFound found_;
  int descriptor_;
  bool at_end_ = false;  ///< what is not kept was cut off
};

}  // namespace ohmdrag::app
