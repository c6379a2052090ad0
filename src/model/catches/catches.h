/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where to catch: every float over the limit, placed row by row.
 *
 * Order of what counts, per float, given how the other floats stand: no loose piece over the
 * limit; never on the first or last stitch of a float of three or more; fewest stacks (same
 * column in a neighbouring row, or two strands behind one stitch); fewest catches (k, or with
 * `spare` k + 1 where k + 1 <= n - 2); fewest nearer than `stagger_cols` columns in a
 * neighbouring row; `clear_ends`; towards the middle (least sum of squared pieces); the first
 * from the right.
 * In the round columns count modulo the repeat; with a vertical repeat the last row meets the first.
 */
#ifndef STRANDWISE_CATCHES_H
#define STRANDWISE_CATCHES_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"
#include "floats.h"

struct work;

struct catch_rules {
    int leave_sts;      /* m >= 1 (row by row also 0: behind every stitch, the ends rule waived) */
    int stagger_cols;   /* 1 to 3 */
    int clear_ends;     /* 1 or 2 */
    bool spare;
    bool again_above;   /* the band is worked more than once upwards */
};

struct catch_mark {
    int32_t column;   /* chart column from 0 at the right; in flat work of the whole row */
    uint16_t row;     /* from 0 */
    uint8_t strand;   /* yarn caught */
    uint8_t behind;   /* yarn of the stitch it is caught behind */
};

struct catch_map {
    const struct catch_mark *mark; /* by row, then column, then strand */
    int64_t count;
    int64_t count_of[GRID_YARNS_MAX];   /* by strand */
    int64_t spares_of[GRID_YARNS_MAX];  /* over the fewest, by strand */
    int64_t stacked, doubled, touching; /* definitions: docs/terms.md; touching: exactly one column apart */
};

/* One repeat as a closed ring. This one function is the placement.
 * Notes: time and memory in proportion to the stitches; never fails. Rows of over 100 million
 * stitches are beyond it.
 * Checked: worked by hand, and against every possible placement on small charts. */
const struct catch_map *catches_place(struct work *work, const struct grid *grid,
                                      const struct catch_rules *rules);

/* Flat work, and across a steek: the floats of the whole row that are not wholly inside the
 * repeats (they touch side stitches or an edge). row_of(r): left sides + repeats + right.
 * inner: the map of the repeat, whose catches stand in every copy of a float that lies inside.
 * Returned: `mark` holds only the catches of those outer floats, column = stitch column of
 * the whole row from 0 at the right (no-stitch squares keep theirs); all counts and pairs are of
 * ALL catches of the piece as worked once upwards, inner copies and outer. Pairs are not counted round from edge to edge. */
struct catch_open {
    const struct grid *repeat, *left, *right; /* left, right: NULL, or ncols may be 0 */
    int repeats;
    enum float_ends ends; /* FLOATS_ANCHOR or FLOATS_TURN */
};
const struct catch_map *catches_place_open(struct work *work, const struct catch_open *piece,
                                           const struct catch_map *inner,
                                           const struct catch_rules *rules);

/* In which of the repeats of flat work a catch of the ring stands: all, or all but the outermost
 * one where its float would have to come in from beyond the repeats. */
struct catch_copies {
    int first, count; /* copies from 0 at the right */
};
struct catch_copies catches_copies(const struct grid *repeat, const struct catch_mark *mark,
                                   int repeats);

/* Pairs as defined, counted afresh from any marks, row by row upwards, columns modulo
 * the repeat. */
void catches_count_pairs(struct work *work, const struct grid *grid, const struct catch_mark *marks,
                         int64_t nmarks, bool again_above, int64_t *stacked, int64_t *doubled,
                         int64_t *touching);

#endif
