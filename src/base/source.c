/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "source.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "arena.h"
#include "diag.h"
#include "text.h"
#include "work.h"

/* Lines reported before a file is given up as not being text at all. */
enum { FAULTY_LINES_MAX = 10 };

static const char save_again[] = "Save the file again as plain text in UTF-8.";

struct reading {
    struct work *work;
    const char *path;
    const char *name; /* as shown */
    struct place asked_at;
    size_t limit_bytes;
};

static void refuse(const struct reading *reading, enum diag_code code, const char *todo,
                   const char *after_name)
{
    diag_add(reading->work->diagnostics, code, reading->asked_at,
             arena_printf(reading->work->arena, "%s %s", reading->name, after_name), todo);
}

static void refuse_missing(const struct reading *reading, int fault)
{
    struct arena *arena = reading->work->arena;
    struct diagnostics *diagnostics = reading->work->diagnostics;

    if (reading->path[0] == '\0')
        diag_add(diagnostics, DIAG_FILE_MISSING, reading->asked_at, "No file is named here.",
                 "Write the name of the file.");
    else if (fault == ENOENT || fault == ENOTDIR)
        diag_add(diagnostics, DIAG_FILE_MISSING, reading->asked_at,
                 arena_printf(arena, "There is no file %s.", reading->name),
                 "Check how the name is spelled and in which folder the file is.");
    else if (fault == EACCES || fault == EPERM)
        refuse(reading, DIAG_FILE_MISSING,
               "Give yourself the right to read it, or name a copy of your own.",
               "is there, but you may not read it.");
    else
        refuse(reading, DIAG_FILE_MISSING, "Name another file, or a copy of this one.",
               arena_printf(arena, "cannot be read (%s).", strerror(fault)));
}

static void refuse_kind(const struct reading *reading, mode_t mode)
{
    const char *after_name = "is not an ordinary file.";

    if (S_ISDIR(mode))
        after_name = "is a folder, not a file.";
    else if (S_ISFIFO(mode))
        after_name = "is a pipe, not a file.";
    else if (S_ISCHR(mode) || S_ISBLK(mode))
        after_name = "is a device, not a file.";
    refuse(reading, DIAG_FILE_KIND, "Name the file itself.", after_name);
}

static void refuse_size(const struct reading *reading)
{
    struct text size = text_create(reading->work->arena);
    size_t limit = reading->limit_bytes;

    if (limit >= 1000000)
        text_decimal(&size, (double)limit / 1e6, 1), text_add(&size, " MB");
    else if (limit >= 1000)
        text_decimal(&size, (double)limit / 1e3, 1), text_add(&size, " KB");
    else
        text_addf(&size, "%zu bytes", limit);
    refuse(reading, DIAG_FILE_SIZE, "Check that it is the right file.",
           arena_printf(reading->work->arena, "is larger than %s, the most that is read here.",
                        size.bytes));
}

/* Returned: an open regular file (or standard input, whatever it is but a folder), its size
 * as far as known in *size; -1 after reporting. O_NONBLOCK: a pipe nobody writes to must not
 * hang the run before it is refused. */
static int open_file(const struct reading *reading, size_t *size)
{
    bool standard_input = strcmp(reading->path, "-") == 0;
    int fd = standard_input ? STDIN_FILENO
                            : open(reading->path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    struct stat state;

    if (fd < 0 || fstat(fd, &state) != 0) {
        refuse_missing(reading, errno);
        if (fd >= 0 && !standard_input)
            close(fd);
        return -1;
    }
    if (standard_input ? S_ISDIR(state.st_mode) : !S_ISREG(state.st_mode)) {
        refuse_kind(reading, state.st_mode);
        if (!standard_input)
            close(fd);
        return -1;
    }
    *size = S_ISREG(state.st_mode) && state.st_size > 0 ? (size_t)state.st_size : 0;
    return fd;
}

/* All of fd into the arena, with a NUL behind. The size told by the system is only a first
 * guess: it may be wrong (0 in /proc) or change. NULL after reporting. */
static char *read_all(const struct reading *reading, int fd, size_t guess, size_t *nbytes)
{
    struct arena *arena = reading->work->arena;
    size_t most = reading->limit_bytes < SIZE_MAX / 4 ? reading->limit_bytes : SIZE_MAX / 4;
    size_t capacity = guess < most ? guess + 1 : most + 1;
    char *bytes;

    if (capacity < 4096 && guess == 0)
        capacity = most + 1 < 4096 ? most + 1 : 4096;
    bytes = arena_alloc(arena, capacity + 1, 1);
    *nbytes = 0;
    for (;;) {
        ssize_t got = read(fd, bytes + *nbytes, capacity - *nbytes);

        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0) {
            refuse_missing(reading, errno);
            return NULL;
        }
        *nbytes += (size_t)got;
        if (*nbytes > most) {
            refuse_size(reading);
            return NULL;
        }
        if (got == 0)
            return bytes;
        if (*nbytes == capacity) {
            size_t more = capacity < most / 2 ? 2 * capacity : most + 1;

            bytes = arena_grow(arena, bytes, *nbytes, more + 1, 1);
            capacity = more;
        }
    }
}

static const struct source *make_source(struct work *work, const char *name, const char *bytes,
                                        size_t nbytes)
{
    struct source *source = arena_alloc(work->arena, 1, sizeof *source);
    size_t *line_start;
    size_t nlines = 0;

    for (size_t i = 0; i < nbytes; i++)
        nlines += bytes[i] == '\n' || i + 1 == nbytes;
    if (nlines > INT_MAX)
        nlines = INT_MAX;
    line_start = arena_alloc(work->arena, nlines, sizeof *line_start);
    for (size_t i = 0, line = 1; line < nlines; i++)
        if (bytes[i] == '\n')
            line_start[line++] = i + 1;
    *source = (struct source){.name = name,
                              .bytes = bytes,
                              .nbytes = nbytes,
                              .line_start = line_start,
                              .nlines = (int)nlines};
    return source;
}

/* --- is it text? -------------------------------------------------------------------- */

/* The first character of the line that plain text does not have: its offset and, in *code,
 * its number (UINT32_MAX: not UTF-8). length: there is none. */
static size_t find_foreign(const char *line, size_t length, uint32_t *code)
{
    for (size_t i = 0; i < length;) {
        size_t size = text_character(line + i, length - i, code);

        if (size == 0) {
            *code = UINT32_MAX;
            return i;
        }
        if ((*code < 0x20 && *code != '\t') || (*code >= 0x7F && *code < 0xA0))
            return i;
        i += size;
    }
    return length;
}

static void report_foreign(struct work *work, struct place at, uint32_t code)
{
    const char *what = "There is a letter here that is not in UTF-8.";
    const char *todo = save_again;

    if (code == 0) {
        what = "This is not plain text.";
        todo = "Check that it is the right file; if it is, save it as plain text in UTF-8.";
    } else if (code == '\r') {
        what = "There is a lone carriage return here, which ends no line.";
        todo = "Save the file again with ordinary line ends (Unix or Windows).";
    } else if (code != UINT32_MAX) {
        what = arena_printf(work->arena, "There is a hidden control character here (number %u).",
                            (unsigned)code);
        todo = "Delete it, or type the line again.";
    }
    diag_add(work->diagnostics, DIAG_FILE_KIND, at, what, todo);
}

static bool is_text(struct work *work, const struct source *source)
{
    int faulty = 0;

    for (int line = 1; line <= source->nlines && faulty < FAULTY_LINES_MAX; line++) {
        size_t length;
        uint32_t code = 0;
        const char *bytes = source_line(source, line, &length);
        size_t at = find_foreign(bytes, length, &code);
        struct place place = {source, line, 1, 1};

        if (at == length)
            continue;
        for (size_t i = 0; i < at; i += text_character(bytes + i, at - i, NULL))
            place.column++;
        report_foreign(work, place, code);
        faulty = code == 0 ? FAULTY_LINES_MAX : faulty + 1;
    }
    return faulty == 0;
}

/* Text as some editors save it by themselves: two bytes a letter. */
static bool is_utf16(const char *bytes, size_t nbytes)
{
    return nbytes >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0);
}

static void note_read(struct work *work, const char *path)
{
    struct file_read *read = arena_alloc(work->arena, 1, sizeof *read);

    *read = (struct file_read){arena_strdup(work->arena, path), work->read};
    work->read = read;
}

const struct source *source_read(struct work *work, const char *path, enum source_kind kind,
                                 size_t limit_bytes, struct place asked_at)
{
    const struct reading reading = {work, path, strcmp(path, "-") == 0 ? "standard input" : path,
                                    asked_at, limit_bytes};
    const struct source *source;
    size_t size, nbytes;
    int fd = open_file(&reading, &size);
    char *bytes = NULL;

    if (fd < 0)
        return NULL;
    if (size > limit_bytes)
        refuse_size(&reading);
    else
        bytes = read_all(&reading, fd, size, &nbytes);
    if (fd != STDIN_FILENO)
        close(fd);
    if (!bytes)
        return NULL;
    note_read(work, path);
    if (kind == SOURCE_BINARY)
        return make_source(work, reading.name, bytes, nbytes);
    if (is_utf16(bytes, nbytes)) {
        refuse(&reading, DIAG_FILE_KIND, save_again, "is text in UTF-16, not in UTF-8.");
        return NULL;
    }
    if (nbytes >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        bytes += 3;
        nbytes -= 3;
    }
    source = make_source(work, reading.name, bytes, nbytes);
    return is_text(work, source) ? source : NULL;
}

const struct source *source_from_text(struct work *work, const char *name, const char *text)
{
    return make_source(work, name, text, strlen(text));
}

const char *source_line(const struct source *source, int line, size_t *length)
{
    size_t start, end;

    *length = 0;
    if (line < 1 || line > source->nlines)
        return "";
    start = source->line_start[line - 1];
    end = line < source->nlines ? source->line_start[line] : source->nbytes;
    if (end > start && source->bytes[end - 1] == '\n') {
        end--;
        if (end > start && source->bytes[end - 1] == '\r')
            end--;
    }
    *length = end - start;
    return source->bytes + start;
}
