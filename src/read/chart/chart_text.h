/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A written chart while it is read: what chart_text.c finds and chart_form.c judges.
 */
#ifndef STRANDWISE_CHART_TEXT_H
#define STRANDWISE_CHART_TEXT_H

#include "base/diag.h"
#include "chart.h"

enum {
    CHART_CODE_SPACE = -1, /* white space between marks */
    CHART_CODE_BAR = -2,
    CHART_CODE_WIDE = -3, /* the first byte of a character of several bytes */
    CHART_CODE_NONE = -4, /* no yarn's mark */
    CHART_STRANGE_MAX = 10 /* strange marks named one by one */
};

/* A row of the chart in its file, without comment and row numbers. */
struct chart_row {
    int line;
    const char *from, *to;
    int bars;
    int part[3];  /* squares before, between and behind the bars; none: all in part[0] */
    bool is_fine; /* no fault of form found */
};

/* A mark no yarn has, where it is seen first. */
struct chart_strange {
    const char *at;
    size_t nbytes;
    int row; /* index from the top */
    long count;
};

struct chart_wide_mark {
    const char *bytes;
    size_t nbytes;
    int code;
};

struct chart_text {
    struct work *work;
    const struct project *project;
    const struct source *source;
    int code[256]; /* yarn index, GRID_NO_STITCH, or CHART_CODE_... */
    struct chart_wide_mark wide[GRID_YARNS_MAX + 1];
    int nwide;
    int last_wide; /* the one met last: rows repeat their marks */
    bool digit_is_mark;
    struct chart_row *rows; /* top row first */
    int nrows;
    struct chart_strange strange[CHART_STRANGE_MAX];
    int nstrange;
    long strange_more; /* marks beyond those */
    int hash_line;     /* first line that starts with # as if it were a comment; 0: none */
    bool failed;
};

/* The code at p, before end, never CHART_CODE_WIDE; *nbytes: of its character. */
int chart_text_code(struct chart_text *text, const char *p, const char *end, size_t *nbytes);

/* From and to lie in the text of line. */
struct place chart_text_place(const struct chart_text *text, int line, const char *from,
                              const char *to);

/* Report, and remember that the chart cannot be used. */
void chart_text_fault(struct chart_text *text, enum diag_code code, struct place at,
                      const char *what, const char *todo);

const char *chart_text_no_stitch(const struct chart_text *text);

/* chart_form.c: marks no yarn has, and rows that do not make a chart. */
void chart_form_check_marks(struct chart_text *text);
void chart_form_check_rows(struct chart_text *text);

#endif
