// SPDX-License-Identifier: GPL-3.0-or-later
#include <csignal>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <sstream>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/file/study_file.hpp"
#include "tests/unit/bytes.hpp"
#include "tests/unit/file/sample_study.hpp"

namespace wallfoot {
namespace {

namespace fs = std::filesystem;

using test::bytes_of;

class Save : public testing::Test {
  protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "study-save-XXXXXX").string();
        ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
        folder_ = pattern;
    }
    void TearDown() override { fs::remove_all(folder_); }
    std::size_t files() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()));
    }

    fs::path folder_;
    const Study study_ = read_study(test::full_study()).study;
};

TEST_F(Save, writes_what_is_read_back_and_leaves_nothing_else) {
    const fs::path path = folder_ / "a.wallfoot";
    save_study(study_, path.string());
    EXPECT_EQ(bytes_of(path), write_study(study_));
    EXPECT_EQ(write_study(load_study(path.string()).study), write_study(study_));
    EXPECT_EQ(files(), 1u);
}

TEST_F(Save, keeps_permissions_and_links) {
    const fs::path path = folder_ / "a.wallfoot", link = folder_ / "link.wallfoot";
    save_study(study_, path.string());
    fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    fs::create_symlink(path, link);
    Study changed = study_;
    changed.title = "Changed";
    save_study(changed, link.string());
    EXPECT_TRUE(fs::is_symlink(link));
    EXPECT_EQ(bytes_of(path), write_study(changed));
    EXPECT_EQ(fs::status(path).permissions(), fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    EXPECT_EQ(files(), 2u);
}

TEST_F(Save, a_new_file_follows_the_mask) {
    const mode_t before = ::umask(027);
    save_study(study_, (folder_ / "a.wallfoot").string());
    ::umask(before);
    EXPECT_EQ(static_cast<unsigned>(fs::status(folder_ / "a.wallfoot").permissions()), 0640u);
}

// A file may not grow past 512 bytes: the write stops in the middle, as on a full disk. In a process of its own.
TEST_F(Save, a_full_disk_leaves_the_old_file_whole) {
    const fs::path path = folder_ / "a.wallfoot";
    save_study(study_, path.string());
    const std::string old = bytes_of(path);
    const pid_t child = ::fork();
    if (child == 0) {
        ::signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{512, 512};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        Study changed = study_;
        changed.title = "Changed";
        try {
            save_study(changed, path.string());
        } catch (const std::runtime_error& error) {
            ::_exit(std::string(error.what()).find("File too large") == std::string::npos ? 2 : 0);
        }
        ::_exit(1);
    }
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 0) << "1: no error, 2: the error does not say why";
    EXPECT_EQ(bytes_of(path), old);
    EXPECT_EQ(files(), 1u) << "the unfinished file was left behind";
}

TEST_F(Save, says_why_it_cannot_save) {
    const auto reason = [&](const fs::path& path) {
        try {
            save_study(study_, path.string());
        } catch (const std::runtime_error& error) {
            return std::string(error.what());
        }
        return std::string{};
    };
    EXPECT_NE(reason(folder_ / "missing" / "a.wallfoot").find("No such file or directory"), std::string::npos);
    EXPECT_NE(reason(folder_).find("Is a directory"), std::string::npos);
    EXPECT_EQ(files(), 0u);
}

}  // namespace
}  // namespace wallfoot
