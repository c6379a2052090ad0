/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches.h"

#include <string.h>

#include "base/work.h"
#include "catches_pairs.h"
#include "catches_rows.h"

const struct catch_map *catches_place(struct work *work, const struct grid *grid,
                                      const struct catch_rules *rules)
{
    struct catch_cloth cloth = {.repeat = grid, .repeats = 1, .ends = FLOATS_RING};

    return catches_rows_place(work, &cloth, rules);
}

const struct catch_map *catches_place_open(struct work *work, const struct catch_open *piece,
                                           const struct catch_map *inner,
                                           const struct catch_rules *rules)
{
    struct catch_cloth cloth = {
        .repeat = piece->repeat,
        .left = piece->left,
        .right = piece->right,
        .repeats = piece->repeats,
        .ends = piece->ends,
        .inner = inner,
    };

    return catches_rows_place(work, &cloth, rules);
}

/* A float over the join has no stitch of its yarn on one side of the catch in the repeat:
 * it needs the neighbouring copy there. */
struct catch_copies catches_copies(const struct grid *repeat, const struct catch_mark *mark,
                                   int repeats)
{
    size_t ncols = (size_t)repeat->ncols, column = (size_t)mark->column;
    const uint8_t *cells = repeat->cell + mark->row * ncols;
    bool from_right = !memchr(cells, mark->strand, column);
    bool from_left = !memchr(cells + column, mark->strand, ncols - column);

    return (struct catch_copies){from_right, repeats - from_right - from_left};
}

void catches_count_pairs(struct work *work, const struct grid *grid, const struct catch_mark *marks,
                         int64_t nmarks, bool again_above, int64_t *stacked, int64_t *doubled,
                         int64_t *touching)
{
    struct catch_pairs pairs = catch_pairs_begin(work->arena, grid->ncols, true);
    int64_t i = 0;

    for (int r = 0; r < grid->nrows; r++) {
        for (; i < nmarks && marks[i].row == r; i++)
            catch_pairs_add(&pairs, marks[i].column);
        catch_pairs_next_row(&pairs);
    }
    for (i = 0; again_above && i < nmarks && marks[i].row == 0; i++)
        catch_pairs_add_again(&pairs, marks[i].column);
    *stacked = pairs.stacked;
    *doubled = pairs.doubled;
    *touching = pairs.touching;
}
