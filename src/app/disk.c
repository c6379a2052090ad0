/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "disk.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/arena.h"
#include "base/work.h"

static enum file_found fault(struct work *work, int number, struct file_got *got)
{
    if (number == ENOENT || number == ENOTDIR)
        return FILE_NONE;
    if (number == EACCES || number == EPERM)
        return FILE_FORBIDDEN;
    got->why = arena_strdup(work->arena, strerror(number));
    return FILE_UNREADABLE;
}

/* All of fd into the arena, with a NUL behind. The size told by the system is only a first guess: it may
 * be wrong or change. */
static enum file_found read_all(struct work *work, int fd, size_t guess, size_t limit, struct file_got *got)
{
    size_t most = limit < SIZE_MAX / 4 ? limit : SIZE_MAX / 4;
    size_t capacity = guess < most ? guess + 1 : most + 1;
    char *bytes;

    if (capacity < 4096 && guess == 0)
        capacity = most + 1 < 4096 ? most + 1 : 4096;
    bytes = arena_alloc(work->arena, capacity + 1, 1);
    for (size_t nbytes = 0;;) {
        ssize_t now = read(fd, bytes + nbytes, capacity - nbytes);

        if (now < 0 && errno == EINTR)
            continue;
        if (now < 0)
            return fault(work, errno, got);
        nbytes += (size_t)now;
        if (nbytes > most)
            return FILE_LARGE;
        if (now == 0) {
            got->bytes = bytes;
            got->nbytes = nbytes;
            return FILE_FOUND;
        }
        if (nbytes == capacity) {
            size_t more = capacity < most / 2 ? 2 * capacity : most + 1;

            bytes = arena_grow(work->arena, bytes, nbytes, more + 1, 1);
            capacity = more;
        }
    }
}

static enum file_found read_open(struct work *work, int fd, bool any_kind, size_t limit, struct file_got *got)
{
    struct stat state;
    size_t size;

    if (fstat(fd, &state) != 0)
        return fault(work, errno, got);
    if (S_ISDIR(state.st_mode))
        return FILE_FOLDER;
    if (!any_kind && !S_ISREG(state.st_mode))
        return S_ISFIFO(state.st_mode) ? FILE_PIPE : FILE_DEVICE;
    size = S_ISREG(state.st_mode) && state.st_size > 0 ? (size_t)state.st_size : 0;
    return size > limit ? FILE_LARGE : read_all(work, fd, size, limit, got);
}

/* O_NONBLOCK: a pipe nobody writes to must not hang the run before it is refused. */
static enum file_found disk_find(struct work *work, const char *name, size_t limit, struct file_got *got)
{
    enum file_found found;
    int fd;

    if (strcmp(name, "-") == 0)
        return read_open(work, STDIN_FILENO, true, limit, got);
    fd = open(name, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    if (fd < 0)
        return fault(work, errno, got);
    found = read_open(work, fd, false, limit, got);
    close(fd);
    return found;
}

const struct outside disk = {disk_find, disk_unpack_png, NULL};
