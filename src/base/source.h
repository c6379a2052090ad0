/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file as read: its name, its bytes, its lines; and a place in it.
 *
 * Every value keeps its place, so that a fault found late still points home.
 */
#ifndef STRANDWISE_SOURCE_H
#define STRANDWISE_SOURCE_H

#include <stddef.h>

struct work;

struct source {
    const char *name;         /* as the knitter named it; shown in messages */
    const char *bytes;        /* nbytes of them, then a NUL that is not counted */
    size_t nbytes;
    const size_t *line_start; /* offset of line i (0-based), nlines of them */
    int nlines;
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

enum source_kind { SOURCE_TEXT, SOURCE_BINARY };

/* Read a whole regular file ("-": standard input) of at most limit_bytes.
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
