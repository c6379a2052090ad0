/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "dents.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "crowding.h"

enum { STEPS = 5, STEP_MOST = 2 };

/* --- marks ------------------------------------------------------------------------------- */

static bool in_repeat(const struct plan_band *band, int drawn)
{
    return drawn >= band->right.ncols && drawn < band->right.ncols + band->drawn.ncols;
}

/* What is drawn in a place already: 1 everywhere, 0 not. One row at a time. */
static void put_mark(struct dents *dents, struct dent_mark *marks, uint8_t *seen, int row,
                     int column, bool edge)
{
    if (seen[column])
        return;
    seen[column] = 1;
    marks[dents->nmarks++] = (struct dent_mark){row, column, edge};
}

static void read_marks(struct arena *arena, struct dents *dents,
                       const struct worked_catches *worked)
{
    const struct plan_band *band = worked->band;
    const struct catch_map *inner = band->catches, *outer = band->outer;
    size_t room = (size_t)inner->count + (size_t)(outer ? outer->count : 0) + 1;
    struct dent_mark *marks = arena_alloc(arena, room, sizeof *marks);
    uint8_t *seen = arena_alloc(arena, (size_t)dents->ncols, 1);
    int64_t i = 0, k = 0;

    for (int row = 0; row < dents->nrows; row++) {
        memset(seen, 0, (size_t)dents->ncols);
        for (; i < inner->count && inner->mark[i].row == row; i++)
            if (!outer || catches_copies(&band->knitted, &inner->mark[i], band->repeats).count > 0)
                put_mark(dents, marks, seen, row, band->right.ncols + inner->mark[i].column, false);
        for (; outer && k < outer->count && outer->mark[k].row == row; k++) {
            int drawn = worked_drawn_column(worked, outer->mark[k].column);

            put_mark(dents, marks, seen, row, drawn, in_repeat(band, drawn) && band->repeats > 1);
        }
    }
    dents->mark = marks;
}

/* --- pairs ------------------------------------------------------------------------------- */

/* Room for one row of pairs: they are counted where they are drawn, so that copies fall on each
 * other. [drawn column][step][over the join]; doubled: [drawn column] */
struct pairing {
    const struct worked_catches *worked;
    struct dents *dents;
    struct dent_pair *pair;
    size_t room;
    int64_t (*times)[STEPS][2];
    int64_t *doubled;
    uint8_t *below, *above; /* [ncols] catches of the two rows */
    int steps;              /* columns looked at to each side */
};

static void add_pair(struct arena *arena, struct pairing *pairing, struct dent_pair pair)
{
    struct dents *dents = pairing->dents;
    int64_t upwards = pairing->worked->band->upwards;

    if ((size_t)dents->npairs == pairing->room) {
        struct dent_pair *more = arena_alloc(arena, 2 * pairing->room + 64, sizeof *more);

        if (dents->npairs > 0)
            memcpy(more, pairing->pair, (size_t)dents->npairs * sizeof *more);
        pairing->room = 2 * pairing->room + 64;
        pairing->pair = more;
    }
    pairing->pair[dents->npairs++] = pair;
    dents->once[pair.kind] += pair.times;
    dents->whole[pair.kind] +=
        pair.times * pairing->worked->times * (pair.over_top ? upwards - 1 : upwards);
}

static void fill_row(const struct worked_catches *worked, int row, uint8_t *catches)
{
    memset(catches, 0, (size_t)worked->ncols);
    for (int64_t i = worked->start[row]; i < worked->start[row + 1]; i++)
        catches[worked->column[i]]++;
}

/* Catches of the upper row that many columns off; *column: where, *round: over the join of a ring.
 */
static int64_t beside(const struct pairing *pairing, int from, int step, int *column, bool *round)
{
    int ncols = pairing->worked->ncols;
    int at = from + step;

    *round = at < 0 || at >= ncols;
    if (*round && !pairing->worked->ring)
        return 0;
    *column = (at % ncols + ncols) % ncols;
    return pairing->above[*column];
}

static void count_from(struct pairing *pairing, int column)
{
    int drawn = worked_drawn_column(pairing->worked, column);

    for (int step = -pairing->steps; step <= pairing->steps; step++) {
        int to;
        bool round;
        int64_t pairs = beside(pairing, column, step, &to, &round);

        if (pairs > 0) {
            bool join = round || worked_drawn_column(pairing->worked, to) != drawn + step;

            pairing->times[drawn][step + STEP_MOST][join] += pairs;
        }
    }
}

static int wrapped(const struct plan_band *band, int drawn)
{
    int right = band->right.ncols, repeat = band->drawn.ncols;

    return right + ((drawn - right) % repeat + repeat) % repeat;
}

static enum dent_kind kind_of(int step)
{
    return step == 0 ? DENT_STACKED : step == 1 || step == -1 ? DENT_TOUCHING : DENT_NEAR;
}

/* The pairs of `row` and the row above it, `to_row`, as counted. */
static void gather_row(struct arena *arena, struct pairing *pairing, int row, int to_row)
{
    const struct plan_band *band = pairing->worked->band;

    for (int drawn = 0; drawn < pairing->dents->ncols; drawn++)
        for (int step = -pairing->steps; step <= pairing->steps; step++)
            for (int join = 0; join < 2; join++) {
                int64_t *times = &pairing->times[drawn][step + STEP_MOST][join];

                if (*times == 0)
                    continue;
                add_pair(arena, pairing,
                         (struct dent_pair){.kind = kind_of(step),
                                            .row = row,
                                            .column = drawn,
                                            .to_row = to_row,
                                            .to_column =
                                                join ? wrapped(band, drawn + step) : drawn + step,
                                            .step = step,
                                            .over_join = join == 1,
                                            .over_top = to_row <= row,
                                            .times = *times});
                *times = 0;
            }
}

static void gather_doubled(struct arena *arena, struct pairing *pairing, int row)
{
    for (int column = 0; column < pairing->worked->ncols; column++) {
        int64_t n = pairing->below[column];

        if (n > 1)
            pairing->doubled[worked_drawn_column(pairing->worked, column)] += n * (n - 1) / 2;
    }
    for (int drawn = 0; drawn < pairing->dents->ncols; drawn++) {
        if (pairing->doubled[drawn] > 0)
            add_pair(arena, pairing,
                     (struct dent_pair){.kind = DENT_DOUBLED,
                                        .row = row,
                                        .column = drawn,
                                        .to_row = row,
                                        .to_column = drawn,
                                        .times = pairing->doubled[drawn]});
        pairing->doubled[drawn] = 0;
    }
}

static void read_pairs(struct work *work, const struct plan *plan, struct dents *dents,
                       const struct worked_catches *worked)
{
    struct arena *scratch = arena_branch(work->arena);
    size_t ncols = (size_t)worked->ncols, drawn = (size_t)dents->ncols;
    struct pairing pairing = {.worked = worked, .dents = dents};
    int nrows = dents->nrows;

    pairing.steps = plan->stagger_cols >= 3 ? 2 : 1;
    pairing.times = arena_alloc(scratch, drawn, sizeof *pairing.times);
    pairing.doubled = arena_alloc(scratch, drawn, sizeof *pairing.doubled);
    pairing.below = arena_alloc(scratch, ncols, 1);
    pairing.above = arena_alloc(scratch, ncols, 1);
    for (int row = 0; row < nrows; row++) {
        bool top = row == nrows - 1;

        fill_row(worked, row, pairing.below);
        gather_doubled(work->arena, &pairing, row);
        if (top && worked->band->upwards == 1)
            break;
        fill_row(worked, top ? 0 : row + 1, pairing.above);
        for (int64_t i = worked->start[row]; i < worked->start[row + 1]; i++)
            count_from(&pairing, worked->column[i]);
        gather_row(work->arena, &pairing, row, top ? 0 : row + 1);
    }
    dents->pair = pairing.pair;
    arena_destroy(scratch);
}

/* --- columns and rows ---------------------------------------------------------------------- */

static void read_counts(struct work *work, struct dents *dents, const struct worked_catches *worked)
{
    struct arena *scratch = arena_branch(work->arena);
    int64_t *in_worked = arena_alloc(scratch, (size_t)worked->ncols, sizeof *in_worked);
    int64_t *in_column = arena_alloc(work->arena, (size_t)dents->ncols, sizeof *in_column);
    int64_t *in_row = arena_alloc(work->arena, (size_t)dents->nrows, sizeof *in_row);

    for (int row = 0; row < dents->nrows; row++) {
        in_row[row] = (worked->start[row + 1] - worked->start[row]) * worked->times;
        if (in_row[row] > dents->most_in_row)
            dents->most_in_row = in_row[row];
        for (int64_t i = worked->start[row]; i < worked->start[row + 1]; i++)
            in_worked[worked->column[i]]++;
    }
    for (int column = 0; column < worked->ncols; column++) {
        int64_t *most = &in_column[worked_drawn_column(worked, column)];

        *most = in_worked[column] > *most ? in_worked[column] : *most;
        if (*most > dents->most_in_column)
            dents->most_in_column = *most;
    }
    dents->in_column = in_column;
    dents->in_row = in_row;
    arena_destroy(scratch);
}

/* So many times the mean of the columns, and so many at least. */
static int64_t ridge_from(const struct dents *dents, const struct plan_crowding *crowding)
{
    int64_t sum = 0, from;

    for (int column = 0; column < dents->ncols; column++)
        sum += dents->in_column[column];
    from = (int64_t)ceil(crowding->ridge_ratio * (double)sum / dents->ncols);
    return from > crowding->ridge_least ? from : crowding->ridge_least;
}

const struct dents *plan_dents_read(struct work *work, const struct plan *plan,
                                    const struct plan_band *band)
{
    struct dents *dents = arena_alloc(work->arena, 1, sizeof *dents);
    struct worked_catches worked = worked_catches_read(work->arena, band);
    uint32_t *crowd;

    dents->ncols = worked_drawn_ncols(band);
    dents->nrows = band->rows;
    read_marks(work->arena, dents, &worked);
    read_pairs(work, plan, dents, &worked);
    read_counts(work, dents, &worked);
    dents->ridge_from = ridge_from(dents, &band->crowding);
    crowd = arena_alloc(work->arena, (size_t)dents->nrows * (size_t)dents->ncols, sizeof *crowd);
    crowding_read(work, band, plan->piece.gauge.per_in, plan->piece.gauge.rows_per_in,
                  band->crowding.within_in, crowd);
    dents->crowd = crowd;
    return dents;
}
