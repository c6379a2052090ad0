/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "dents.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "rows.h"
#include "strands.h"

static const double NEARLY = 1e-9; /* what is exactly on the circle is within it */

/* --- catches as worked --------------------------------------------------------------------- */

int worked_drawn_column(const struct worked_catches *worked, int column)
{
    int right = worked->band->right.ncols, repeat = worked->band->drawn.ncols;
    int between = worked->band->repeats * repeat;

    if (worked->ring)
        return right + column;
    if (column < right)
        return column;
    if (column >= right + between)
        return column - between + repeat;
    return right + (column - right) % repeat;
}

static uint32_t *row_before(const struct worked_catches *worked, int64_t row)
{
    return worked->before + row * (worked->ncols + 1);
}

struct worked_catches worked_catches_read(struct arena *arena, const struct plan_band *band)
{
    struct worked_catches worked = {
        .band = band,
        .ring = !band->outer,
        .ncols = band->outer ? plan_whole_columns(band) : band->drawn.ncols,
        .times = band->outer ? 1 : band->repeats,
    };

    worked.before = arena_alloc(arena, (size_t)band->rows * ((size_t)worked.ncols + 1),
                                sizeof *worked.before);
    for (int row = 0; row < band->rows; row++) {
        uint32_t *before = row_before(&worked, row);
        int count;
        const struct catch_mark *marks = plan_row_catches(arena, band, row, &count);

        for (int i = 0; i < count; i++)
            before[marks[i].column + 1]++;
        for (int column = 0; column < worked.ncols; column++)
            before[column + 1] += before[column];
    }
    return worked;
}

int64_t worked_catches_at(const struct worked_catches *worked, int row, int column)
{
    const uint32_t *before = row_before(worked, row);

    return before[column + 1] - before[column];
}

/* --- round a stitch ------------------------------------------------------------------------ */

/* How far a circle reaches to each side, `rows` above or below its middle; -1: not there at all. */
static int64_t half_width(const struct plan_gauge *gauge, double within_in, int64_t rows)
{
    double up = (double)rows / gauge->rows_per_in;
    double square = within_in * within_in * (1 + NEARLY) - up * up;

    return square < 0 ? -1 : (int64_t)floor(gauge->per_in * sqrt(square) + NEARLY);
}

int64_t dents_circle_sts(const struct plan_gauge *gauge, double within_in)
{
    int64_t stitches = 2 * half_width(gauge, within_in, 0) + 1;

    for (int64_t rows = 1; half_width(gauge, within_in, rows) >= 0; rows++)
        stitches += 2 * (2 * half_width(gauge, within_in, rows) + 1);
    return stitches;
}

/* Catches of a row before that column, which on a ring goes on round either way. */
static int64_t count_before(const struct worked_catches *worked, const uint32_t *before, int64_t column)
{
    int64_t ncols = worked->ncols, turns = 0;

    if (column >= 0 && column <= ncols)
        return before[column];
    if (!worked->ring)
        return column < 0 ? 0 : before[ncols];
    turns = column > 0 ? column / ncols : -((ncols - 1 - column) / ncols);
    return turns * before[ncols] + before[column - turns * ncols];
}

/* Where catches are counted round. */
struct circle {
    const int64_t *half; /* [reach + 1]: half width so many rows off */
    int64_t reach;       /* rows up and down */
    int64_t *count;      /* [ncols]: round each stitch of a row */
};

static struct circle circle_read(struct arena *arena, const struct plan_band *band,
                                 const struct plan_gauge *gauge, int ncols)
{
    int64_t high = (int64_t)band->rows * band->upwards, reach = 0;
    int64_t *half;

    while (reach + 1 < high && half_width(gauge, band->dents.within_in, reach + 1) >= 0)
        reach++;
    half = arena_alloc(arena, (size_t)reach + 1, sizeof *half);
    for (int64_t rows = 0; rows <= reach; rows++)
        half[rows] = half_width(gauge, band->dents.within_in, rows);
    return (struct circle){half, reach, arena_alloc(arena, (size_t)ncols, sizeof *half)};
}

/* Round each stitch of a row of one of the times upwards: never more than once round the whole piece. Returned: is
 * any near it? */
static bool count_round(const struct worked_catches *worked, const struct circle *circle, int64_t row)
{
    int64_t nrows = worked->band->rows, high = nrows * worked->band->upwards;
    int64_t first_row = row > circle->reach ? row - circle->reach : 0;
    int64_t all = worked->ncols * worked->times;
    bool any = false;

    memset(circle->count, 0, (size_t)worked->ncols * sizeof *circle->count);
    for (int64_t at = first_row; at < high && at <= row + circle->reach; at++) {
        const uint32_t *before = row_before(worked, at % nrows);
        int64_t half = circle->half[llabs(at - row)], width = 2 * half + 1;

        if (before[worked->ncols] == 0)
            continue;
        any = true;
        if (worked->ring && width > all)
            width = all;
        for (int64_t first = -half; first < worked->ncols - half; first++)
            circle->count[first + half] +=
                count_before(worked, before, first + width) - count_before(worked, before, first);
    }
    return any;
}

/* In a row of one of the times upwards. *on_catch: whether the closest so far is itself a catch. */
static void read_crowd_row(struct plan_dents *dents, const struct worked_catches *worked,
                           const struct circle *circle, int64_t at, bool *on_catch)
{
    int row = (int)(at % worked->band->rows);

    if (!count_round(worked, circle, at))
        return;
    for (int column = 0; column < worked->ncols; column++) {
        int drawn = worked_drawn_column(worked, column);
        uint32_t *most = &dents->crowd[(size_t)row * (size_t)dents->ncols + (size_t)drawn];
        int64_t count = circle->count[column];
        bool caught;

        if (count == 0 || plan_drawn_cell(worked->band, row, drawn, false) == GRID_NO_STITCH)
            continue;
        *most = count > *most ? (uint32_t)count : *most;
        if (count < dents->most)
            continue;
        caught = worked_catches_at(worked, row, column) > 0;
        if (count > dents->most || (caught && !*on_catch)) {
            *on_catch = caught;
            dents->most = count;
            dents->row = row;
            dents->column = drawn;
        }
    }
}

static void read_crowd(struct arena *arena, struct plan_dents *dents,
                       const struct worked_catches *worked, const struct circle *circle)
{
    const struct plan_band *band = worked->band;
    /* With enough times upwards one in the middle has all its neighbours; else each is looked at. */
    int64_t enough = 2 * (circle->reach / band->rows + 1) + 1;
    int64_t first = band->upwards > enough ? band->upwards / 2 : 0;
    int64_t end = band->upwards > enough ? first + 1 : band->upwards;
    bool on_catch = false;

    dents->crowd = arena_alloc(arena, (size_t)dents->nrows * (size_t)dents->ncols,
                               sizeof *dents->crowd);
    dents->row = dents->column = -1;
    for (int row = 0; row < band->rows; row++)
        for (int64_t time = first; time < end; time++)
            read_crowd_row(dents, worked, circle, time * band->rows + row, &on_catch);
    dents->notable = dents->most >= dents->step[2];
    for (int step = 0; step < 3; step++)
        dents->shown[step] = dents->most <= dents->step[2]
                                 ? dents->step[step]
                                 : dents->step[0] +
                                       ((dents->most - dents->step[0] + 1) * step + 2) / 3;
}

/* --- on and beside each other -------------------------------------------------------------- */

static void add_pairs(struct plan_dents *dents, const struct worked_catches *worked,
                      enum dent_kind kind, int64_t pairs, bool over_top)
{
    int64_t upwards = worked->band->upwards - over_top;

    dents->once[kind] += pairs;
    dents->whole[kind] += pairs * worked->times * upwards;
}

/* A catch with those of the row above it, up to `steps` columns off. */
static void join_above(struct plan_dents *dents, const struct worked_catches *worked, int row,
                       int column, int steps)
{
    static const enum dent_kind kinds[] = {DENT_STACKED, DENT_TOUCHING, DENT_NEAR};
    int drawn = worked_drawn_column(worked, column), ncols = worked->ncols;
    bool top = row == dents->nrows - 1;

    for (int step = -steps; step <= steps; step++) {
        bool round = column + step < 0 || column + step >= ncols;
        int to = ((column + step) % ncols + ncols) % ncols;
        int64_t pairs = worked_catches_at(worked, row, column) *
                        worked_catches_at(worked, top ? 0 : row + 1, to);

        if (pairs == 0 || (round && !worked->ring))
            continue;
        round = round || worked_drawn_column(worked, to) != drawn + step;
        dents->joined[(size_t)row * (size_t)dents->ncols + (size_t)drawn] |= dents_joined_above(step, round);
        add_pairs(dents, worked, kinds[abs(step)], pairs, top);
    }
}

static void read_pairs(struct arena *arena, struct plan_dents *dents,
                       const struct worked_catches *worked, int stagger_cols)
{
    int steps = stagger_cols >= 3 ? 2 : 1;

    dents->joined = arena_alloc(arena, (size_t)dents->nrows * (size_t)dents->ncols,
                                sizeof *dents->joined);
    for (int row = 0; row < dents->nrows; row++)
        for (int column = 0; column < worked->ncols; column++) {
            int64_t here = worked_catches_at(worked, row, column);

            if (here > 1) {
                dents->joined[(size_t)row * (size_t)dents->ncols +
                              (size_t)worked_drawn_column(worked, column)] |= DENTS_JOINED_HERE;
                add_pairs(dents, worked, DENT_DOUBLED, here * (here - 1) / 2, false);
            }
            if (here > 0 && (row < dents->nrows - 1 || worked->band->upwards > 1))
                join_above(dents, worked, row, column, steps);
        }
}

/* --- columns and rows ---------------------------------------------------------------------- */

static void read_rows(struct arena *arena, struct plan_band *band,
                      const struct worked_catches *worked)
{
    int64_t *in_row = arena_alloc(arena, (size_t)band->rows, sizeof *in_row);

    band->busiest_row = -1;
    for (int row = 0; row < band->rows; row++) {
        in_row[row] = row_before(worked, row)[worked->ncols] * worked->times;
        if (in_row[row] > band->busiest_catches) {
            band->busiest_catches = in_row[row];
            band->busiest_row = row;
        }
    }
    band->dents.in_row = in_row;
}

static void read_columns(struct arena *arena, struct arena *scratch, struct plan_dents *dents,
                         const struct worked_catches *worked)
{
    int64_t *in_column = arena_alloc(arena, (size_t)dents->ncols, sizeof *in_column), sum = 0;
    int64_t *count = arena_alloc(scratch, (size_t)worked->ncols, sizeof *count);

    for (int row = 0; row < dents->nrows; row++)
        for (int column = 0; column < worked->ncols; column++)
            count[column] += worked_catches_at(worked, row, column);
    for (int column = 0; column < worked->ncols; column++) {
        int64_t *most = &in_column[worked_drawn_column(worked, column)];

        *most = count[column] > *most ? count[column] : *most;
        dents->most_in_column = count[column] > dents->most_in_column ? count[column] : dents->most_in_column;
    }
    for (int column = 0; column < dents->ncols; column++)
        sum += in_column[column];
    dents->ridge_from = (int64_t)ceil(dents->ridge_ratio * (double)sum / dents->ncols);
    if (dents->ridge_from < dents->ridge_least)
        dents->ridge_from = dents->ridge_least;
    dents->in_column = in_column;
}

void plan_dents_read(struct work *work, struct plan_band *band, const struct plan_gauge *gauge,
                     int stagger_cols)
{
    struct arena *scratch = arena_branch(work->arena);
    struct worked_catches worked = worked_catches_read(scratch, band);
    struct circle circle = circle_read(scratch, band, gauge, worked.ncols);
    struct plan_dents *dents = &band->dents;

    dents->ncols = band->right.ncols + band->drawn.ncols + band->left.ncols;
    dents->nrows = band->rows;
    read_rows(work->arena, band, &worked);
    read_columns(work->arena, scratch, dents, &worked);
    read_pairs(work->arena, dents, &worked, stagger_cols);
    read_crowd(work->arena, dents, &worked, &circle);
    arena_destroy(scratch);
}
