/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Expected values: what was written, read back; the promises of app/outfile.h. A full disk is
 * played by /dev/full and by a limit on the size of files.
 */
#define _XOPEN_SOURCE 700
#include <CUnit/CUnit.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app/outfile.h"
#include "fixture_work.h"

static char folder[200];

static void make_folder(void)
{
    const char *base = getenv("TMPDIR");

    snprintf(folder, sizeof folder, "%s/outfile-XXXXXX", base ? base : "/tmp");
    if (!mkdtemp(folder))
        abort();
}

static const char *in_folder(struct work *work, const char *name)
{
    return arena_printf(work->arena, "%s/%s", folder, name);
}

/* How many things lie in the folder; all are removed if asked. */
static int things(bool remove_them)
{
    DIR *dir = opendir(folder);
    int count = 0;

    for (struct dirent *entry = readdir(dir); entry; entry = readdir(dir)) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        count++;
        if (remove_them && unlinkat(dirfd(dir), entry->d_name, 0) != 0)
            unlinkat(dirfd(dir), entry->d_name, AT_REMOVEDIR);
    }
    closedir(dir);
    return count;
}

static void remove_folder(void)
{
    things(true);
    CU_ASSERT_EQUAL(rmdir(folder), 0);
}

static int holds(const char *path, const char *expected)
{
    char bytes[100] = "";
    FILE *file = fopen(path, "rb");
    size_t length;

    if (!file)
        return 0;
    length = fread(bytes, 1, sizeof bytes - 1, file);
    fclose(file);
    return length == strlen(expected) && memcmp(bytes, expected, length) == 0;
}

static mode_t mode_of(const char *path)
{
    struct stat state;

    return lstat(path, &state) == 0 ? state.st_mode & 07777 : 0;
}

static int put(struct work *work, const char *path, const char *text, bool replace)
{
    return outfile_write(work, path, text, strlen(text), replace ? OUTFILE_REPLACE : OUTFILE_KEEP);
}

static void written_and_replaced(void)
{
    struct work work = fixture_work();
    mode_t usual = umask(027);
    const char *path;

    make_folder();
    path = in_folder(&work, "sheet.svg");
    CU_ASSERT_EQUAL(put(&work, path, "first", false), 0);
    CU_ASSERT(holds(path, "first"));
    CU_ASSERT_EQUAL(mode_of(path), 0640);
    CU_ASSERT_EQUAL(put(&work, path, "second and longer", true), 0);
    CU_ASSERT(holds(path, "second and longer"));
    chmod(path, 0604);
    CU_ASSERT_EQUAL(put(&work, path, "third", true), 0);
    CU_ASSERT(holds(path, "third"));
    CU_ASSERT_EQUAL(mode_of(path), 0604);
    CU_ASSERT_EQUAL(put(&work, path, "", true), 0);
    CU_ASSERT(holds(path, ""));
    CU_ASSERT_EQUAL(things(false), 1);
    CU_ASSERT(!diagnostics_fatal(work.diagnostics));
    umask(usual);
    remove_folder();
    fixture_end(&work);
}

static void every_byte(void)
{
    enum { SIZE = 200000 };
    static char bytes[SIZE], back[SIZE + 1];
    struct work work = fixture_work();
    const char *path;
    FILE *file;

    make_folder();
    path = in_folder(&work, "plan.pdf");
    for (size_t i = 0; i < SIZE; i++)
        bytes[i] = (char)(i * 31 % 256);
    CU_ASSERT_EQUAL(outfile_write(&work, path, bytes, SIZE, OUTFILE_KEEP), 0);
    file = fopen(path, "rb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    CU_ASSERT_EQUAL(fread(back, 1, sizeof back, file), SIZE);
    CU_ASSERT_EQUAL(memcmp(back, bytes, SIZE), 0);
    fclose(file);
    remove_folder();
    fixture_end(&work);
}

/* Must fail with one message that holds words. */
static void refused(const char *path, bool replace, const char *words)
{
    struct work work = fixture_work();
    int before = things(false);

    CU_ASSERT_EQUAL(put(&work, path, "new", replace), -1);
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_ERROR), 1);
    CU_ASSERT_EQUAL(fixture_diag(&work, 0).code, DIAG_FILE_WRITE);
    CU_ASSERT_PTR_NOT_NULL(strstr(fixture_diag(&work, 0).what, words));
    CU_ASSERT_PTR_NOT_NULL(fixture_diag(&work, 0).todo);
    CU_ASSERT_EQUAL(things(false), before);
    fixture_end(&work);
}

static void what_is_refused(void)
{
    struct work work = fixture_work();
    const char *old;

    make_folder();
    old = in_folder(&work, "old.svg");
    CU_ASSERT_EQUAL(put(&work, old, "old", false), 0);
    refused(old, false, "is there already");
    CU_ASSERT(holds(old, "old"));
    refused(folder, true, "is a folder, not a file.");
    refused(in_folder(&work, "none/sheet.svg"), true, "there is no folder");
    refused(in_folder(&work, "none/"), true, "folder's name");
    refused(in_folder(&work, "old.svg/sheet.svg"), true, "there is no folder");
    refused("", true, "No file is named");
    CU_ASSERT_EQUAL(mkfifo(in_folder(&work, "pipe"), 0600), 0);
    refused(in_folder(&work, "pipe"), true, "nothing reads from it");
    refused("/dev/full", true, "no room");
    if (geteuid() != 0) { /* root may write all */
        chmod(old, 0400);
        refused(old, true, "may not write");
        chmod(folder, 0500);
        refused(in_folder(&work, "new.svg"), true, "may not write");
        chmod(folder, 0700);
    }
    remove_folder();
    fixture_end(&work);
}

static void links_and_devices(void)
{
    struct work work = fixture_work();
    struct stat state;
    const char *file, *link_path;

    make_folder();
    file = in_folder(&work, "real.svg");
    link_path = in_folder(&work, "link.svg");
    CU_ASSERT_EQUAL(put(&work, file, "old", false), 0);
    CU_ASSERT_EQUAL(symlink("real.svg", link_path), 0);
    CU_ASSERT_EQUAL(put(&work, link_path, "new", true), 0);
    CU_ASSERT(holds(file, "new"));
    CU_ASSERT(lstat(link_path, &state) == 0 && S_ISLNK(state.st_mode));
    /* a link to nothing is still something that is there */
    unlink(file);
    CU_ASSERT_EQUAL(put(&work, link_path, "newer", false), -1);
    CU_ASSERT_EQUAL(things(false), 1);
    CU_ASSERT_EQUAL(put(&work, "/dev/null", "gone", false), 0);
    CU_ASSERT(stat("/dev/null", &state) == 0 && S_ISCHR(state.st_mode));
    remove_folder();
    fixture_end(&work);
}

/* Run act in a process of its own, since it spoils what the tests need; returned: its verdict. */
static int apart(int (*act)(void))
{
    int status = 0;
    pid_t child;

    fflush(NULL);
    child = fork();
    if (child == 0)
        _exit(act());
    return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status)
               ? WEXITSTATUS(status)
               : 99;
}

static int act_no_room(void)
{
    static char bytes[50000];
    const struct rlimit limit = {20000, 20000};
    struct work work = fixture_work();
    const char *path = in_folder(&work, "sheet.svg");

    signal(SIGXFSZ, SIG_IGN);
    if (put(&work, path, "old", false) != 0 || setrlimit(RLIMIT_FSIZE, &limit) != 0)
        return 2;
    if (outfile_write(&work, path, bytes, sizeof bytes, OUTFILE_REPLACE) != -1)
        return 3;
    if (!strstr(fixture_diag(&work, 0).what, "no room"))
        return 4;
    return holds(path, "old") && things(false) == 1 ? 0 : 5;
}

static void the_old_file_outlives_a_full_disk(void)
{
    make_folder();
    CU_ASSERT_EQUAL(apart(act_no_room), 0);
    remove_folder();
}

static int stdout_to(const char *path)
{
    int fd = open(path, O_WRONLY | O_CREAT, 0600);

    return fd < 0 || dup2(fd, STDOUT_FILENO) < 0 ? -1 : 0;
}

static int act_stdout_full(void)
{
    struct work work = fixture_work();

    if (stdout_to("/dev/full") != 0)
        return 2;
    if (outfile_write_stdout(&work, "plan", 4) != -1)
        return 3;
    return fixture_diag(&work, 0).code == DIAG_FILE_WRITE ? 0 : 4;
}

static int act_stdout_file(void)
{
    struct work work = fixture_work();
    const char *path = in_folder(&work, "out");

    if (stdout_to(path) != 0)
        return 2;
    if (outfile_write_stdout(&work, "plan\n", 5) != 0 || outfile_write_stdout(&work, "", 0) != 0)
        return 3;
    return holds(path, "plan\n") ? 0 : 4;
}

static int act_stdout_closed(void)
{
    struct work work = fixture_work();

    close(STDOUT_FILENO);
    return outfile_write_stdout(&work, "plan", 4) == -1 ? 0 : 3;
}

static int act_dev_stdout(void)
{
    struct work work = fixture_work();
    const char *path = in_folder(&work, "out");
    struct stat before, after;

    if (stdout_to(path) != 0 || stat(path, &before) != 0)
        return 2;
    if (put(&work, "/dev/stdout", "sheet", true) != 0)
        return 3;
    if (stat(path, &after) != 0 || after.st_ino != before.st_ino)
        return 4;
    return holds(path, "sheet") && things(false) == 1 ? 0 : 5;
}

static void standard_output(void)
{
    make_folder();
    CU_ASSERT_EQUAL(apart(act_stdout_file), 0);
    CU_ASSERT_EQUAL(apart(act_stdout_full), 0);
    CU_ASSERT_EQUAL(apart(act_stdout_closed), 0);
    CU_ASSERT_EQUAL(apart(act_dev_stdout), 0);
    remove_folder();
}

CU_TestInfo tests_outfile[] = {
    {"a file is written and replaced, its rights kept", written_and_replaced},
    {"every byte arrives", every_byte},
    {"what is refused leaves nothing behind", what_is_refused},
    {"links stay links, devices stay devices", links_and_devices},
    {"the old file outlives a full disk", the_old_file_outlives_a_full_disk},
    {"standard output is checked", standard_output},
    CU_TEST_INFO_NULL,
};
