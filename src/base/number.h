/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers and lengths as a knitter writes them, read strictly and exactly.
 *
 * Read: 12  8.5  .5  21,5  1/2  8 1/2  8½  8 ½  -2 %. Refused: 8-1/2  1e3  1.5/2  8 3/2  5.
 * At most 7 digits before and 6 after the point; fraction denominators 2 to 1000.
 * A decimal comma is a comma between two digits; a list separator is a comma followed by
 * white space, or a comma after a unit or a fraction. A list whose only commas that could be
 * either are between digits, with none before white space, is refused.
 */
#ifndef STRANDWISE_NUMBER_H
#define STRANDWISE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

#include "rational.h"

enum number_status {
    NUMBER_OK = 0,
    NUMBER_MISSING = -1,  /* no digit where a number should start */
    NUMBER_TOO_LONG = -2, /* more digits than can be kept exactly */
    NUMBER_FRACTION = -3, /* denominator 0 or over 1000, 1.5/2, 1 2 3 */
    NUMBER_UNIT = -4,     /* a word behind the number that is no unit known here */
    NUMBER_TRAILING = -5, /* something more behind number and unit */
    NUMBER_AMBIGUOUS = -6 /* "31,32": one number or two? (lists only) */
};

enum unit {
    UNIT_NONE,
    UNIT_INCH,   /* in, inch, inches, " */
    UNIT_CM,     /* cm */
    UNIT_MM,     /* mm */
    UNIT_METRE,  /* m, metre(s), meter(s) */
    UNIT_YARD,   /* yd, yds, yard(s) */
    UNIT_GRAM,   /* g, gram(s), gramme(s) */
    UNIT_OUNCE,  /* oz, ounce(s) */
    UNIT_PERCENT,/* % or per cent */
    UNIT_STITCH, /* st, sts, stitch, stitches */
    UNIT_ROW,    /* row(s), round(s), rnd(s) */
    UNIT_BALL,   /* ball(s) */
    UNIT_COUNT
};

struct quantity {
    struct rational value; /* in the unit given */
    enum unit unit;        /* UNIT_NONE: none was written */
};

/* One number at the head of text[0..length), white space before it skipped, signs - and +
 * accepted. *used: bytes taken, or on a fault its offset. Does not look at what follows. */
int number_read(const char *text, size_t length, struct rational *value, size_t *used);

/* The whole of text: a number and perhaps a unit. *fault_at: byte offset of the fault. */
int quantity_read(const char *text, size_t length, struct quantity *quantity, size_t *fault_at);

/* A list: quantities set off by commas. Writes at most limit of them; *count how many there
 * are; offsets[i] (if not NULL): byte offset of the i-th. A fault: its offset in *fault_at. */
int quantity_list_read(const char *text, size_t length, struct quantity *list, size_t *offsets,
                       int limit, int *count, size_t *fault_at);

/* A length in inches, exactly (1 in = 2.54 cm, 1 yd = 36 in); none if the unit is no length.
 * unit_default stands for UNIT_NONE. */
struct rational quantity_inches(struct quantity quantity, enum unit unit_default);

/* grams (1 oz = 28.349523125 g) and metres (1 yd = 0.9144 m, any unit of length), exactly;
 * none for other units. */
struct rational quantity_grams(struct quantity quantity, enum unit unit_default);
struct rational quantity_metres(struct quantity quantity, enum unit unit_default);


/* Edit distance for "did you mean": Damerau-Levenshtein (optimal string alignment), case
 * ignored, bytes. 100 where either is longer than that. */
int text_distance(const char *a, const char *b);
/* The nearest of words to text, if within max(1, length / 3); else NULL (also where
 * text is longer than 100 bytes). */
const char *text_nearest(const char *text, const char *const *words, int nwords);

#endif
