/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Centre, start and needles: what lies on the centre front and back, where to start the round, how to
 * divide it. The two edges at a steek: do they mirror each other, and what would make them.
 */
#include "plan/builder.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "model/motif/symmetry.h"

/* Beyond this it is no motif that anybody centres. */
static bool is_motif(const struct grid *grid)
{
    const int64_t looks_max = 50000000; /* every mirror line looks at every cell */
    int64_t cells = (int64_t)grid->nrows * grid->ncols;

    return cells > 0 && cells * grid->ncols <= looks_max;
}

/* --- mirror lines ---------------------------------------------------------------------------- */

/* Stitches off the ground in the half of a least repeat (of `period` columns) round a line. */
static int64_t motif_near(const struct grid *grid, int period, int half, uint8_t ground)
{
    int n = grid->ncols;
    int64_t off = 0;

    for (int c = 0; c < n; c++) {
        int away = abs(2 * c - half) % (2 * n);

        if (away > n)
            away = 2 * n - away;
        for (int row = 0; row < grid->nrows && 2 * away < period; row++)
            off += grid_at(grid, row, c) != ground;
    }
    return off;
}

/* The first two lines found lie half the least repeat apart: as many half columns as that has columns. */
static void find_lines(struct builder *builder, const struct grid *grid, struct plan_centre *centre)
{
    int line = symmetry_next_mirror(builder->work, grid, 0), next;
    uint8_t ground = symmetry_ground(grid);
    int64_t near_line, near_next;

    centre->motif = centre->gap = -1;
    if (line < 0)
        return;
    next = symmetry_next_mirror(builder->work, grid, line + 1);
    near_line = motif_near(grid, next - line, line, ground);
    near_next = motif_near(grid, next - line, next, ground);
    centre->alike = near_line == near_next;
    centre->motif = near_next > near_line ? next : line;
    centre->gap = near_next > near_line ? line : next;
}

/* The lines repeat with the least repeat, twice the way from the one to the other. */
static enum plan_line lies_on(const struct plan_centre *centre, int half)
{
    int period = 2 * abs(centre->motif - centre->gap);

    if (centre->motif < 0)
        return LINE_NEITHER;
    if (abs(half - centre->motif) % period == 0)
        return centre->alike ? LINE_ALIKE : LINE_MOTIF;
    if (abs(half - centre->gap) % period == 0)
        return centre->alike ? LINE_ALIKE : LINE_GAP;
    return LINE_NEITHER;
}

/* As a knitter sees it: half a stitch off a line is on it, where lines do not lie closer. */
static enum plan_line seen_on(const struct plan_centre *centre, int half)
{
    const int apart = 4; /* half columns: two stitches */
    enum plan_line line = lies_on(centre, half);

    if (line != LINE_NEITHER || abs(centre->motif - centre->gap) < apart)
        return line;
    line = lies_on(centre, half - 1);
    return line != LINE_NEITHER ? line : lies_on(centre, half + 1);
}

/* --- starts ------------------------------------------------------------------------------------ */

static struct plan_start start_of(const struct plan_band *band, const struct plan_centre *centre, struct centre_start at)
{
    bool as_drawn = !band->remedy || band->remedy->remake.kind == REMAKE_NOTHING;
    struct plan_start out = {
        .stitch = as_drawn ? (band->begin + at.start) % band->knitted.ncols + 1 : 0,
        .at = at,
        .over_limit = at.strand_sts > band->leave_sts,
        .back = seen_on(centre, 2 * at.start - 1),
        .front = seen_on(centre, 2 * at.start - 1 + band->stitches),
    };

    return out;
}

/* The number-th start, counted from where her chart begins, whichever is planned. */
static int start_in_order(const struct plan_band *band, int number)
{
    int n = band->knitted.ncols;

    return (number - band->begin % n + n) % n;
}

static bool comes_before(const struct plan_start *a, const struct plan_start *b)
{
    if (a->over_limit != b->over_limit)
        return b->over_limit;
    if (a->at.jog_rows_all != b->at.jog_rows_all)
        return a->at.jog_rows_all < b->at.jog_rows_all;
    return a->at.strand_sts < b->at.strand_sts;
}

/* The best, in order; of equal ones the first stays first. */
static void keep_best(struct plan_centre *centre, const struct plan_start *one)
{
    int at = centre->nbest;

    while (at > 0 && comes_before(one, &centre->best[at - 1]))
        at--;
    if (at == PLAN_STARTS)
        return;
    if (centre->nbest < PLAN_STARTS)
        centre->nbest++;
    memmove(&centre->best[at + 1], &centre->best[at], (size_t)(centre->nbest - 1 - at) * sizeof *one);
    centre->best[at] = *one;
}

/* With the motif's middle in a stitch, and the centre front between two, half a stitch is left. */
static void find_front(const struct plan_band *band, struct plan_centre *centre)
{
    centre->front_start = -1;
    for (int off = 0; off < 2 && centre->front_start < 0; off++)
        for (int i = 0; i < band->knitted.ncols && centre->front_start < 0; i++) {
            int start = start_in_order(band, i), back = 2 * start - 1 + off;

            if (lies_on(centre, back + band->stitches) != LINE_MOTIF)
                continue;
            centre->front_start = start;
            centre->front_half_off = off > 0;
            centre->front_back = seen_on(centre, back);
        }
}

static void find_starts(const struct plan_band *band, const struct centre_start *starts, struct plan_centre *centre)
{
    int least = INT_MAX;

    for (int i = 0; i < band->knitted.ncols; i++) {
        struct plan_start one = start_of(band, centre, starts[start_in_order(band, i)]);

        if (one.at.start == 0)
            centre->now = one;
        keep_best(centre, &one);
        if (one.at.jog_rows_all < least)
            least = one.at.jog_rows_all;
    }
    centre->strand_decides = least < centre->best[0].at.jog_rows_all;
}

/* --- needles ----------------------------------------------------------------------------------- */

static void find_needles(struct builder *builder, const struct plan_band *band,
                         struct plan_centre *centre)
{
    const int part_of_needle = 4, even_within = 2, even_reach = 1;
    struct centre_join *join =
        arena_alloc(builder->work->arena, (size_t)band->knitted.ncols, sizeof *join);

    centre_joins(builder->work, &band->knitted, join);
    for (int i = 0; i < PLAN_NEEDLE_WAYS; i++) {
        struct plan_needles *way = &centre->needles[i];

        way->needles = i + 2;
        way->crosses = centre_needles(join, band->knitted.ncols, band->stitches, way->needles, 0,
                                      band->stitches / (part_of_needle * way->needles), way->sts);
        for (int k = 0; k < way->needles; k++)
            way->uneven = way->uneven || abs(way->sts[k] * way->needles - band->stitches) >
                                             even_within * way->needles;
        if (way->uneven)
            way->even_crosses = centre_needles(join, band->knitted.ncols, band->stitches, way->needles, 0,
                                               even_reach, way->even_sts);
    }
}

void plan_centre_set(struct builder *builder)
{
    const int stitches_least = 8; /* on four needles */

    for (int i = 0; i < builder->piece->nbands && !builder->try_at && !builder_is_open(builder); i++) {
        struct plan_band *band = &builder->piece->bands[i];
        struct plan_centre *centre;
        struct centre_start *starts;

        if (!is_motif(&band->knitted) || band->stitches < stitches_least)
            continue;
        centre = arena_alloc(builder->work->arena, 1, sizeof *centre);
        starts = arena_alloc(builder->work->arena, (size_t)band->knitted.ncols, sizeof *starts);
        centre_starts(builder->work, &band->knitted, band->upwards, starts);
        find_lines(builder, &band->knitted, centre);
        find_starts(band, starts, centre);
        find_front(band, centre);
        if (centre->front_start >= 0)
            centre->front = start_of(band, centre, starts[centre->front_start]);
        find_needles(builder, band, centre);
        band->centre = centre;
    }
}

/* --- the fronts at a steek --------------------------------------------------------------------- */

/* Given: axis, of the chart as a ring: column c and column axis - c alike. Whole repeats begun with
 * column s mirror where the axis is 2 s - 1, and with m columns more at their end where it is 2 s - 1 + m. */
static void take_axis(struct plan_fronts *fronts, int axis, int ncols)
{
    int more = (axis + 1) % ncols, twice = more;

    if (2 * more > ncols)
        more -= ncols;
    if (!fronts->known || abs(more) < abs(fronts->more_sts))
        fronts->more_sts = more;
    fronts->known = true;
    if (twice % 2 != 0)
        twice += ncols;
    if (twice % 2 == 0 && (fronts->start < 0 || twice / 2 % ncols < fronts->start))
        fronts->start = twice / 2 % ncols;
}

static bool has_gaps(const struct grid *grid)
{
    return memchr(grid->cell, GRID_NO_STITCH, (size_t)grid->nrows * (size_t)grid->ncols);
}

static const struct plan_fronts *fronts_of(struct builder *builder, const struct plan_band *band)
{
    int ncols = band->knitted.ncols;
    struct plan_fronts *fronts = arena_alloc(builder->work->arena, 1, sizeof *fronts);

    fronts->start = -1;
    for (int axis = symmetry_next_mirror(builder->work, &band->knitted, 0); axis >= 0 && axis < ncols;
         axis = symmetry_next_mirror(builder->work, &band->knitted, axis + 1))
        take_axis(fronts, axis, ncols);
    return fronts;
}

void plan_fronts_set(struct builder *builder)
{
    for (int i = 0; i < builder->piece->nbands && !builder->try_at && builder_steek_sts(builder) > 0;
         i++) {
        struct plan_band *band = &builder->piece->bands[i];

        if (is_motif(&band->knitted) && !has_gaps(&band->knitted))
            band->fronts = fronts_of(builder, band);
    }
}
