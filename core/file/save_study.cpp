// SPDX-License-Identifier: GPL-3.0-or-later
#include <cerrno>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <stdexcept>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

#include "core/file/study_file.hpp"
#include "core/file/whole_file.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void fail(const std::string& what, const std::string& path, int error) {
    throw std::runtime_error("The " + what + " was not saved to " + path + ": " + std::generic_category().message(error) +
                             ". A file that was there is as it was; save to another place or remove the cause.");
}

/// A temporary file beside the target; gone again unless it was renamed.
class TemporaryFile {
  public:
    explicit TemporaryFile(const std::filesystem::path& target)
        : name_((target.parent_path() / std::string(".").append(target.filename().string()).append(".XXXXXX")).string()),
          file_(::mkostemp(name_.data(), O_CLOEXEC)) {}
    ~TemporaryFile() {
        if (file_ < 0) return;
        ::close(file_);
        if (!renamed_) ::unlink(name_.c_str());
    }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;

    bool is_open() const { return file_ >= 0; }

    bool write(const std::string& text) {
        std::size_t done = 0;
        while (done < text.size()) {
            const auto n = ::write(file_, text.data() + done, text.size() - done);
            if (n < 0 && errno == EINTR) continue;
            if (n < 0) return false;
            done += static_cast<std::size_t>(n);
        }
        return true;
    }
    /// The owner and permissions of the file that is replaced; those of a new file where there is none.
    bool take_permissions(const std::filesystem::path& target) {
        struct stat old {};
        if (::stat(target.c_str(), &old) == 0) {
            // Only root may give a file away; for others the owner is already right or cannot be kept.
            if (::fchown(file_, old.st_uid, old.st_gid) != 0) errno = 0;
            return ::fchmod(file_, old.st_mode & 07777) == 0;
        }
        const mode_t mask = ::umask(0);
        ::umask(mask);
        return ::fchmod(file_, 0666 & ~mask) == 0;
    }
    bool flush() { return ::fsync(file_) == 0; }
    bool rename_to(const std::filesystem::path& target) {
        renamed_ = ::rename(name_.c_str(), target.c_str()) == 0;
        return renamed_;
    }

  private:
    std::string name_;
    int file_;
    bool renamed_ = false;
};

/// Makes the new name last; some file systems cannot flush a folder, which is no failure of the save.
void flush_folder(const std::filesystem::path& folder) {
    const int file = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) return;
    ::fsync(file);
    ::close(file);
}

}  // namespace

void save_whole(const std::string& text, const std::string& path, const std::string& what) {
    // A link keeps pointing at the file it points at.
    std::error_code error;
    std::filesystem::path target = std::filesystem::weakly_canonical(path, error);
    if (error) target = path;
    if (std::filesystem::is_directory(target, error)) fail(what, path, EISDIR);
    if (::access(target.c_str(), F_OK) == 0 && ::access(target.c_str(), W_OK) != 0) fail(what, path, errno);
    TemporaryFile file(target);
    if (!file.is_open()) fail(what, path, errno);
    if (!file.write(text) || !file.take_permissions(target) || !file.flush() || !file.rename_to(target)) fail(what, path, errno);
    flush_folder(target.parent_path());
}

void save_study(const Study& study, const std::string& path) { save_whole(write_study(study), path, "study"); }

}  // namespace wallfoot
