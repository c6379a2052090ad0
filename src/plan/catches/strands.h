/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chart as it is drawn: right side stitches, one repeat, left side stitches; the strands behind each
 * row, and the catches. A pure reading of the plan, like rows.h.
 */
#ifndef STRANDWISE_STRANDS_H
#define STRANDWISE_STRANDS_H

#include "plan/plan.h"

/* Columns of the drawing from 0 at the right. An open end lies on the line at the right of that
 * column (0 .. columns drawn): there the strand goes on into the next repeat or to the edge.
 * A strand over the join of the repeat is two of these. */
struct strand {
    int from, to;
    bool from_open, to_open;
    uint8_t yarn;
    bool over_limit; /* too long to be left loose, as it lies in the piece */
    int span_sts;    /* stitches it passes behind, all of it */
};

/* Returned: the strands of row `row`, *count of them; memory from work's arena.
 * Notes: inside the repeat as in a repeat between others; where it is worked only once, flat, as
 * the row lies. Selvedge and steek are left out. */
const struct strand *plan_row_strands(struct work *work, const struct plan *plan,
                                      const struct plan_band *band, int row, int *count);

/* The yarn that shows there, or (knitted) the one under a stitch sewn on; GRID_NO_STITCH. */
uint8_t plan_drawn_cell(const struct plan_band *band, int row, int column, bool knitted);

/* In how many of the repeats a catch of band->catches stands: all in the round; flat or with a
 * steek a float that comes in from beyond the repeats is another one in the outermost. */
int plan_catch_copies(const struct plan_band *band, const struct catch_mark *mark);

/* A catch as the drawing has it. */
struct drawn_catch {
    int row, column;
    uint8_t strand;
    bool edge;       /* only in the repeat beside an edge: this one, or both */
    bool right_edge, left_edge;
    bool not_right, not_left; /* in every repeat but the one beside that edge: its strand comes in from beyond */
    int place, of;   /* the how-many-th, from 0, of those behind this stitch */
};

/* All catches to be drawn, by row, then column: those of the repeat, and those of the floats that touch
 * side stitches or an edge. From the wrong side without those of the outermost repeats: the strands shown
 * are those of a repeat between others. */
const struct drawn_catch *plan_drawn_catches(struct work *work, const struct plan_band *band, bool wrong_side,
                                             int64_t *count);

#endif
