/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What looks like a slip of the pen in a chart: rows and lines that meet everywhere but at the join of
 * the repeat, single stitches with none of their yarn round them, and one left out of many that stand at
 * regular steps. Pure.
 */
#ifndef STRANDWISE_PROOF_H
#define STRANDWISE_PROOF_H

#include "base/grid.h"
#include "symmetry.h"

/* Every how many stitches a row repeats itself, where that does not divide its width, so that it
 * breaks at the join and nowhere else; 0: no such row.
 * Given: yarn_of[count], count at least 1; whole: fewest whole times it must repeat itself to count. */
int proof_row_period(const uint8_t *yarn_of, int count, int whole);

/* Two ends of a line of single stitches that face each other over a join and miss each other. */
struct proof_gap {
    int row, other_row; /* in the last column, and in the first */
    uint8_t yarn;
};

/* Where lines of a yarn miss each other so over the join, and over no other boundary of two columns.
 * An end: a stitch (not in the ground) with its yarn behind it (of the three stitches there), none above
 * or below it, none of the three across the boundary. Two ends miss each other where they are two or
 * three rows apart. Given: gaps, room for most. Returned: how many (at most `most`). */
int proof_gaps(const struct symmetry_field *field, struct proof_gap *gaps, int most);

/* Does a stitch of its yarn stand among the eight round it? At an edge where nobody knows what lies
 * beyond: yes. */
bool proof_has_neighbour(const struct symmetry_field *field, int row, int column);

/* Is none, or each, of the eight round it of its yarn? Beyond an edge lies the ground. */
bool proof_is_alone(const struct symmetry_field *field, int row, int column);
bool proof_is_plain(const struct symmetry_field *field, int row, int column);

/* Stitches of a yarn without such a neighbour, where they are at most `most` and at most
 * `part` of its stitches. */
struct proof_stray {
    int row, column;
};
int proof_strays(const struct symmetry_field *field, uint8_t yarn, int most, double part,
                 struct proof_stray *strays);

/* A place left out where single stitches of a yarn stand at regular steps: each `step` of them from the next one,
 * in two directions. */
struct proof_hole {
    int row, column;
    int beside_row, beside_column; /* one of that yarn next to it: the one meant, moved; -1: none */
    uint8_t yarn;
};
struct proof_steps {
    struct {
        int rows, columns; /* rows 0 or more; columns to the left, less than 0: to the right */
    } step[2];
    int agreeing; /* single stitches that have all their neighbours but one at most */
};

/* The places left out of such a seeding; steps as most of its stitches have them, PROOF_STEP_MAX at most.
 * Of the eight next places of the seeding round a place all are taken; at an edge where nobody knows what lies
 * beyond, all five and more that lie inside. As far as those there are none but seeds and one stitch beside it.
 * Given: holes, room for most; each: fewest stitches that agree for each place of the ground with most of the next
 * ones taken (twice that at an edge): more such places, and the seeding is not so regular. Returned: how many
 * are left out; 0: none, or more than `most`, or fewer stitches that agree, or than half of all.
 * Checked: test_seeding, every stitch of good seedings left out and moved in turn. */
enum { PROOF_STEP_MAX = 16 };
int proof_holes(const struct symmetry_field *field, uint8_t yarn, int most, int each,
                struct proof_steps *steps, struct proof_hole *holes);

#endif
