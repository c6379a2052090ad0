/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file as read: its name, its bytes, its lines; and a place in it.
 *
 * Every value keeps its place, so that a fault found late still points home.
 */
#ifndef STRANDWISE_SOURCE_H
#define STRANDWISE_SOURCE_H

#include <stdbool.h>
#include <stddef.h>

struct work;

struct source {
    const char *name;         /* as the knitter named it; shown in messages */
    const char *bytes;        /* nbytes of them, then a NUL that is not counted */
    size_t nbytes;
    const size_t *line_start; /* offset of line i (0-based), nlines of them */
    int nlines;
    long width, height;       /* over 0: a picture that came unpacked, as file_got has it */
};

/* A stretch of a source. source NULL: no place (a fault of the command line, say).
 * line and column count from 1; column counts characters, not bytes; line 0: the file
 * as a whole; width: characters to underline, at least 1. */
struct place {
    const struct source *source;
    int line;
    int column;
    int width;
};

/* --- where files come from ------------------------------------------------------------- */

/* What asking for a file came to. */
enum file_found {
    FILE_FOUND,
    FILE_NONE,
    FILE_FORBIDDEN,
    FILE_FOLDER,
    FILE_PIPE,
    FILE_DEVICE,
    FILE_LARGE,     /* larger than was asked for */
    FILE_UNREADABLE /* why says */
};

struct file_got {
    const char *bytes;   /* nbytes of them, then a NUL that is not counted; they live with the arena */
    size_t nbytes;
    long width, height;  /* over 0: a picture unpacked, rows of red, green, blue and alpha from the top */
    const char *why;
};

enum unpacked { UNPACKED, UNPACKED_CUT_SHORT, UNPACKED_DAMAGED };

/* A PNG being unpacked, its size as its head has it. Rows are taken as they come, the topmost first:
 * 4 * width bytes, red, green, blue, alpha. take returns false when it has seen enough; it takes nothing
 * from the arena. */
struct unpacking {
    const char *bytes;
    size_t nbytes;
    long width, height;
    bool interlaced;
    bool (*take)(void *data, long y, const unsigned char *row);
    void *data;
};

/* A disk, or a list in memory; and who unpacks pictures (NULL: nobody, they must come unpacked). */
struct outside {
    enum file_found (*find)(struct work *work, const char *name, size_t limit_bytes, struct file_got *got);
    enum unpacked (*unpack)(struct work *work, const struct unpacking *unpacking);
    const void *data; /* for find */
};

/* --- a file read ------------------------------------------------------------------------ */

enum source_kind { SOURCE_TEXT, SOURCE_BINARY };

/* Ask for a file of that name ("-": standard input); nothing is reported. */
enum file_found source_find(struct work *work, const char *name, size_t limit_bytes, struct file_got *got);

/* Report what source_find() came to, but FILE_FOUND. asked_at as below. */
void source_refuse(struct work *work, const char *name, enum file_found found, size_t limit_bytes,
                   const struct file_got *got, struct place asked_at);

/* The source of what was found; NULL after reporting. */
const struct source *source_take(struct work *work, const char *name, enum source_kind kind,
                                 const struct file_got *got, struct place asked_at);

/* All of it: a whole regular file of at most limit_bytes.
 * Returned: the source, or NULL after reporting (missing, a folder, not a regular file,
 *   too large, unreadable; for SOURCE_TEXT also: NUL, other control characters than tab,
 *   bare CR or bytes that are not UTF-8, each with its line). A UTF-8 mark at the head is
 *   skipped; CR LF and a missing last newline are accepted.
 * asked_at: the place that names the file, or all zero. */
const struct source *source_read(struct work *work, const char *path, enum source_kind kind,
                                 size_t limit_bytes, struct place asked_at);

/* A source made from text in memory (starter project, tests, tables). Not copied. */
const struct source *source_from_text(struct work *work, const char *name, const char *text);

/* The text of line (from 1), without its end; *length in bytes. Empty if out of range. */
const char *source_line(const struct source *source, int line, size_t *length);

#endif
