/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One round of shaping as words. Called by shaping.c alone.
 *
 * Terms: a word is what stands between two spaces: "(k6, m1) 11 times" is four words,
 * "(k10, m1) twice" three.
 */
#ifndef STRANDWISE_SHAPING_LINE_H
#define STRANDWISE_SHAPING_LINE_H

#include <stdbool.h>
#include <stdint.h>

struct text;

/* Shaping i of `shapings`, from 0, comes after (i x plain + phase) div shapings plain
 * stitches; the whole is worked `times` times. */
struct shaping_wording {
    int plain;    /* plain stitches shared out, >= 0 */
    int shapings; /* > 0 */
    int times;
    bool decrease;
    int64_t phase; /* 0 <= phase < plain + shapings */
};

struct shaping_cost {
    int words;
    int64_t characters;
    bool runs_on; /* repeated, and its end and beginning are alike: "k1) (k2" are read as two,
                     knitted as one */
};

/* The phase of half a gap at each end: place i is ((2i+1) plain + shapings) div (2 shapings). */
int64_t shaping_half_gap_phase(const struct shaping_wording *wording);

/* What the wording costs; false as soon as it takes more than most_words. */
bool shaping_measure(const struct shaping_wording *wording, int most_words,
                     struct shaping_cost *cost);

/* Append it to text. */
void shaping_write(const struct shaping_wording *wording, struct text *text);

#endif
