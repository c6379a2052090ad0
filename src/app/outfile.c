/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700 /* realpath() */
#include "outfile.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"

static int refuse(struct work *work, const char *path, const char *after_path, const char *todo)
{
    diag_add(work->diagnostics, DIAG_FILE_WRITE, (struct place){0},
             arena_printf(work->arena, "%s %s", path, after_path), todo);
    return -1;
}

static const char *folder_of(struct work *work, const char *path)
{
    const char *slash = strrchr(path, '/');

    if (!slash)
        return ".";
    return slash == path ? "/" : arena_strndup(work->arena, path, (size_t)(slash - path));
}

/* Say why path was not written, from the system's errno. */
static int refuse_fault(struct work *work, const char *path, int fault)
{
    if (fault == ENOENT || fault == ENOTDIR)
        return refuse(work, path,
                      arena_printf(work->arena, "was not written: there is no folder %s.", folder_of(work, path)),
                      "Make the folder first, or name another.");
    if (fault == EACCES || fault == EPERM || fault == EROFS)
        return refuse(work, path, "was not written: you may not write there.", "Name a folder of your own.");
    if (fault == ENOSPC || fault == EDQUOT || fault == EFBIG)
        return refuse(work, path, "was not written: there is no room for it.",
                      "Make room on the disk, or name another place.");
    return refuse(work, path, arena_printf(work->arena, "was not written (%s).", strerror(fault)),
                  "Name another file or folder.");
}

/* 0, or the errno of what went wrong. */
static int write_all(int fd, const char *bytes, size_t nbytes)
{
    while (nbytes > 0) {
        ssize_t put = write(fd, bytes, nbytes);

        if (put < 0 && errno == EINTR)
            continue;
        if (put < 0)
            return errno;
        bytes += put;
        nbytes -= (size_t)put;
    }
    return 0;
}

/* Some file systems cannot flush, and say EINVAL; that is no fault of the file. */
static int flush_to_disk(int fd)
{
    return fsync(fd) == 0 || errno == EINVAL || errno == ENOTSUP ? 0 : errno;
}

/* A pipe, a terminal, /dev/null: there is nothing to replace. O_NONBLOCK at first, so that a
 * pipe nobody reads is refused instead of hanging the run. */
static int write_straight(struct work *work, const char *path, const void *bytes, size_t nbytes)
{
    int fd = open(path, O_WRONLY | O_TRUNC | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    int fault;

    if (fd < 0 && errno == ENXIO)
        return refuse(work, path, "was not written: nothing reads from it.", "Name an ordinary file.");
    if (fd < 0)
        return refuse_fault(work, path, errno);
    fault = fcntl(fd, F_SETFL, 0) == 0 ? 0 : errno;
    if (!fault)
        fault = write_all(fd, bytes, nbytes);
    if (close(fd) != 0 && !fault)
        fault = errno;
    return fault ? refuse_fault(work, path, fault) : 0;
}

/* The rights a new file has by the user's own habit. */
static mode_t usual_mode(void)
{
    mode_t mask = umask(0);

    umask(mask);
    return 0666 & ~mask;
}

static int fill(int fd, const void *bytes, size_t nbytes, mode_t mode)
{
    int fault = write_all(fd, bytes, nbytes);

    if (!fault && fchmod(fd, mode) != 0)
        fault = errno;
    if (!fault)
        fault = flush_to_disk(fd);
    if (close(fd) != 0 && !fault)
        fault = errno;
    return fault;
}

/* link() instead of rename(): it refuses a file that turned up since we looked. Where the file
 * system has no links, the look must do. */
static int put_in_place(const char *temporary, const char *target, bool replace)
{
    if (!replace) {
        if (link(temporary, target) == 0) {
            unlink(temporary);
            return 0;
        }
        if (errno == EEXIST)
            return EEXIST;
    }
    return rename(temporary, target) == 0 ? 0 : errno;
}

static int refuse_existing(struct work *work, const char *path, enum outfile_there there)
{
    return refuse(work, path, "is there already; it was left as it is.",
                  there == OUTFILE_ASK ? "Name another file, or add --replace to write over this one."
                                       : "Name another file, or remove this one first.");
}

/* The project, a chart, a table: what the result was made from. */
static bool was_read(const struct work *work, const struct stat *state)
{
    struct stat other;

    for (const struct file_read *read = work->read; read; read = read->before)
        if (stat(read->path, &other) == 0 && other.st_dev == state->st_dev &&
            other.st_ino == state->st_ino)
            return true;
    return false;
}

/* target: path with symbolic links followed, so that the link stays and its file is renewed. */
static int write_beside(struct work *work, const char *path, const char *target, const void *bytes,
                        size_t nbytes, mode_t mode, enum outfile_there there)
{
    char *temporary = arena_printf(work->arena, "%s/.strandwise-XXXXXX", folder_of(work, target));
    int fd = mkstemp(temporary);
    int fault;

    if (fd < 0)
        return refuse_fault(work, path, errno);
    fault = fill(fd, bytes, nbytes, mode);
    if (!fault)
        fault = put_in_place(temporary, target, there == OUTFILE_REPLACE);
    if (!fault)
        return 0;
    unlink(temporary);
    return fault == EEXIST && there != OUTFILE_REPLACE ? refuse_existing(work, path, there)
                                                       : refuse_fault(work, path, fault);
}

/* Standard output under a name: its file is being written by others too, so never renamed over. */
static bool is_open_stream(const char *path)
{
    return strncmp(path, "/dev/std", 8) == 0 || strncmp(path, "/dev/fd/", 8) == 0;
}

int outfile_write(struct work *work, const char *path, const void *bytes, size_t nbytes,
                  enum outfile_there there)
{
    size_t length = strlen(path);
    const char *target = path;
    struct stat state;
    char *resolved;

    if (length == 0)
        return refuse(work, "No file", "is named for the result.", "Write the name of the file.");
    if (stat(path, &state) != 0) {
        if (errno != ENOENT)
            return refuse_fault(work, path, errno);
        if (path[length - 1] == '/')
            return refuse(work, path, "was not written: that is a folder's name.", "Write a file name behind it.");
        return write_beside(work, path, path, bytes, nbytes, usual_mode(), there);
    }
    if (S_ISDIR(state.st_mode))
        return refuse(work, path, "is a folder, not a file.", "Write a file name behind it, or name another.");
    if (!S_ISREG(state.st_mode) || is_open_stream(path))
        return write_straight(work, path, bytes, nbytes);
    if (was_read(work, &state))
        return refuse(work, path, "is one of the files this was made from; it was left as it is.",
                      "Name another file for the result.");
    if (there != OUTFILE_REPLACE)
        return refuse_existing(work, path, there);
    if (access(path, W_OK) != 0)
        return refuse_fault(work, path, errno);
    resolved = realpath(path, NULL);
    if (!resolved)
        return refuse_fault(work, path, errno);
    target = arena_strdup(work->arena, resolved);
    free(resolved);
    return write_beside(work, path, target, bytes, nbytes, state.st_mode & 0777, OUTFILE_REPLACE);
}

int outfile_write_stdout(struct work *work, const void *bytes, size_t nbytes)
{
    size_t put = nbytes ? fwrite(bytes, 1, nbytes, stdout) : 0;

    if (put == nbytes && fflush(stdout) == 0 && !ferror(stdout))
        return 0;
    return refuse(work, "The result", "did not all go out to standard output.",
                  "Make room where it goes to, or have it written to a file.");
}
