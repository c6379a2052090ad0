/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each band filled in: floats and catches.
 */
#include "plan/builder.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/diag.h"
#include "dents.h"
#include "rows.h"

enum {
    CELLS_WORKED_MAX = 400000000,
};

/* Which yarns are in the band's knitted stitches, sides included. */
static uint64_t yarns_of_grid(const struct grid *grid)
{
    size_t n = (size_t)grid->nrows * (size_t)grid->ncols;
    bool seen[256] = {false};
    uint64_t yarns = 0;

    for (size_t i = 0; i < n; i++)
        seen[grid->cell[i]] = true;
    for (int i = 0; i < GRID_YARNS_MAX; i++)
        if (seen[i])
            yarns |= (uint64_t)1 << i;
    return yarns;
}

static int rows_of_three(const struct grid *grid)
{
    int rows = 0;

    for (int r = 0; r < grid->nrows; r++) {
        struct grid row = {1, grid->ncols, grid->cell + (size_t)r * (size_t)grid->ncols};
        uint64_t yarns = yarns_of_grid(&row);
        int n = 0;

        for (; yarns; yarns &= yarns - 1)
            n++;
        rows += n >= 3;
    }
    return rows;
}

/* --- one repeat ----------------------------------------------------------------------- */

static void fill_colours(struct builder *builder, struct plan_band *band)
{
    struct arena *arena = builder->work->arena;
    int limit = band->repeat_sts;
    struct float_tally *tally = arena_alloc(arena, GRID_YARNS_MAX, sizeof *tally);
    int64_t *histogram = arena_alloc(arena, (size_t)builder->project->nyarns * (size_t)(limit + 1),
                                     sizeof *histogram);
    uint64_t yarns = yarns_of_grid(&band->knitted);

    if (band->side_sts > 0)
        yarns |= yarns_of_grid(&band->left_knitted) | yarns_of_grid(&band->right_knitted);
    floats_tally_ring(builder->work, &band->knitted, band->leave_sts, band->upwards, tally, histogram,
                      limit);
    band->colours = arena_alloc(arena, GRID_YARNS_MAX, sizeof *band->colours);
    for (int yarn = 0; yarn < builder->project->nyarns; yarn++) {
        struct plan_colour *colour = &band->colours[band->ncolours];

        if (!(yarns >> yarn & 1))
            continue;
        band->ncolours++;
        colour->yarn = yarn;
        colour->tally = tally[yarn];
        colour->longest_in = tally[yarn].longest_sts / builder->piece->gauge.per_in;
        colour->catches = band->catches->count_of[yarn];
        colour->spares = band->catches->spares_of[yarn];
        colour->histogram = histogram + (size_t)yarn * (size_t)(limit + 1);
        colour->histogram_limit = limit;
        band->over_limit += colour->tally.over_limit;
        band->catches_fewest_repeat += colour->tally.catches_fewest;
        band->catches_repeat += colour->catches;
        if (colour->tally.longest_sts > band->longest_sts)
            band->longest_sts = colour->tally.longest_sts;
    }
    band->longest_in = band->longest_sts / builder->piece->gauge.per_in;
}

/* --- the band as worked ---------------------------------------------------------------- */

static void work_ring(struct plan_band *band)
{
    for (int i = 0; i < band->ncolours; i++) {
        struct plan_colour *colour = &band->colours[i];

        colour->worked = colour->tally;
        colour->worked.stitches *= band->repeats;
        colour->worked.float_stitches *= band->repeats;
        colour->worked.floats *= band->repeats;
        colour->worked.over_limit *= band->repeats;
        colour->worked.catches_fewest *= band->repeats;
        colour->lengths = colour->histogram;
        colour->lengths_limit = colour->histogram_limit;
        colour->piece_catches = colour->catches * band->repeats * band->upwards;
        colour->piece_spares = colour->spares * band->repeats * band->upwards;
    }
}

/* Every whole row counted, side stitches and edges with it. */
static void tally_whole_rows(struct builder *builder, const struct plan_band *band,
                             enum float_ends ends, struct float_tally *tally, int64_t *histogram,
                             int histogram_limit)
{
    struct arena *scratch = arena_branch(builder->work->arena);
    size_t width = (size_t)(band->stitches + band->side_sts);
    uint8_t *yarn_of = arena_alloc(scratch, width, 1);
    struct float_run *runs = arena_alloc(scratch, width + 2 * GRID_YARNS_MAX, sizeof *runs);

    for (int row = 0; row < band->rows; row++) {
        int n = plan_read_whole_row(band, row, yarn_of, NULL);
        int nruns = floats_of_row(yarn_of, n, ends, runs);

        floats_tally_row(yarn_of, n, runs, nruns, row, band->leave_sts, tally, histogram,
                         histogram_limit);
    }
    arena_destroy(scratch);
}

struct catch_open plan_open_piece(const struct builder *builder, const struct plan_band *band)
{
    bool turn = builder->project->edges.value == EDGE_TURN;

    return (struct catch_open){&band->knitted, &band->left_knitted, &band->right_knitted, band->repeats,
                               turn ? FLOATS_TURN : FLOATS_ANCHOR};
}

/* Rows with two ends. Counted twice: how long the longest float is must be known before there is
 * room to count floats by length. */
static void work_open(struct builder *builder, struct plan_band *band)
{
    struct arena *arena = builder->work->arena;
    struct catch_open piece = plan_open_piece(builder, band);
    struct float_tally *tally = arena_alloc(arena, GRID_YARNS_MAX, sizeof *tally);
    struct float_tally *again = arena_alloc(arena, GRID_YARNS_MAX, sizeof *again);
    struct catch_rules rules = plan_catch_rules(builder, band);
    int64_t *lengths;
    int longest = 0;

    tally_whole_rows(builder, band, piece.ends, tally, NULL, 0);
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        longest = tally[yarn].longest_sts > longest ? tally[yarn].longest_sts : longest;
    lengths = arena_alloc(arena, (size_t)builder->project->nyarns * (size_t)(longest + 1),
                          sizeof *lengths);
    tally_whole_rows(builder, band, piece.ends, again, lengths, longest);
    band->outer = catches_place_open(builder->work, &piece, band->catches, &rules);
    for (int i = 0; i < band->ncolours; i++) {
        struct plan_colour *colour = &band->colours[i];

        colour->worked = tally[colour->yarn];
        colour->lengths = lengths + (size_t)colour->yarn * (size_t)(longest + 1);
        colour->lengths_limit = longest;
        colour->piece_catches = band->outer->count_of[colour->yarn] * band->upwards;
        colour->piece_spares = band->outer->spares_of[colour->yarn] * band->upwards;
    }
}

/* The whole band from its colours. */
static void sum_colours(const struct builder *builder, struct plan_band *band)
{
    double per_in = builder->piece->gauge.per_in;

    for (int i = 0; i < band->ncolours; i++) {
        struct plan_colour *colour = &band->colours[i];
        const struct float_tally *worked = &colour->worked;

        colour->piece_stitches = worked->stitches * band->upwards;
        colour->piece_float_stitches = worked->float_stitches * band->upwards;
        colour->piece_longest_sts = worked->longest_sts;
        colour->worked_longest_in = worked->longest_sts / per_in;
        colour->start_longest_in = colour->tally.start_longest_sts / per_in;
        colour->once_catches = band->outer ? colour->piece_catches / band->upwards : colour->catches;
        colour->once_spares = band->outer ? colour->piece_spares / band->upwards : colour->spares;
        band->catches_once += colour->once_catches;
        band->catches_piece += colour->piece_catches;
        band->worked_over_limit += worked->over_limit;
        band->worked_fewest += worked->catches_fewest;
        if (worked->longest_sts > band->worked_longest_sts)
            band->worked_longest_sts = worked->longest_sts;
    }
}

/* The step at which a share of the stitches within reach are caught behind; one catch alone, or
 * fewer than the step before, is no step. */
static int64_t crowding_step(double share, int64_t circle_sts, int64_t before)
{
    int64_t catches = (int64_t)ceil(share * (double)circle_sts);

    return catches > before ? catches : before + 1;
}

static void fill_dents(struct builder *builder, struct plan_band *band)
{
    const struct plan_gauge *gauge = &builder->piece->gauge;
    struct plan_dents *dents = &band->dents;
    int64_t circle;

    dents->within_in = builder_threshold(builder, "crowding_reach_in");
    circle = dents_circle_sts(gauge, dents->within_in);
    dents->step[0] = crowding_step(builder_threshold(builder, "crowding_light_ratio"), circle, 1);
    dents->step[1] = crowding_step(builder_threshold(builder, "crowding_more_ratio"), circle,
                                   dents->step[0]);
    dents->step[2] = crowding_step(builder_threshold(builder, "crowding_notable_ratio"), circle,
                                   dents->step[1]);
    dents->ridge_ratio = builder_threshold(builder, "ridge_ratio");
    dents->ridge_least = (int64_t)ceil(fmax(builder_threshold(builder, "ridge_catches"),
                                            band->rows / builder_threshold(builder, "ridge_rows")));
    plan_dents_read(builder->work, band, gauge, builder->project->stagger.value);
}

/* --- steps of the gauge at which the catches change -------------------------------------- */

int64_t plan_band_fewest(const struct plan_band *band, int leave_sts)
{
    int64_t sum = 0;

    for (int i = 0; i < band->ncolours; i++)
        for (int n = leave_sts + 1; n <= band->colours[i].lengths_limit; n++)
            sum += band->colours[i].lengths[n] * floats_fewest_catches(n, leave_sts);
    return sum;
}

/* A gauge beyond half or twice her own is another sort of fabric (our judgement). */
static bool within_reach(double per_in, double own)
{
    return per_in > 0.5 * own && per_in < 2.0 * own;
}

/* The next step upwards (1) or downwards (-1) at which another number of catches is the fewest. */
static bool find_cliff(const struct builder *builder, const struct plan_band *band, int way,
                       struct plan_cliff *cliff)
{
    for (int m = band->leave_sts + way; m >= 1 && (way < 0 || m <= band->worked_longest_sts); m += way) {
        double per_in = (way > 0 ? m : m + 1) / rational_double(builder->limit_in);

        *cliff = (struct plan_cliff){per_in, m, plan_band_fewest(band, m)};
        if (!within_reach(per_in, builder->piece->gauge.per_in))
            break;
        if (cliff->catches != band->lengths_fewest)
            return true;
    }
    *cliff = (struct plan_cliff){0};
    return false;
}

/* --- cautions ----------------------------------------------------------------- */

/* A strand that passes the whole round to meet its own one stitch. */
static void caution_one_stitch(struct builder *builder, const struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];

    for (int i = 0; i < band->ncolours && !builder->try_at; i++) {
        const struct plan_colour *colour = &band->colours[i];

        if (band->repeats > 1 || builder_is_open(builder) ||
            colour->tally.longest_sts < band->repeat_sts - 1 ||
            colour->tally.longest_sts <= band->leave_sts)
            continue;
        diag_add(builder->work->diagnostics, DIAG_ONE_STITCH_ROUND, part->at,
                 arena_printf(builder->work->arena,
                              "In row %d %s has one stitch in the whole round and would float behind "
                              "all the rest.",
                              colour->tally.longest_row + 1,
                              builder->project->yarns[colour->yarn].name),
                 "Put that stitch on afterwards with a needle (duplicate over), or use a short "
                 "length of its own.");
    }
}

/* --- turned where they are ------------------------------------------------------------------ */

/* Stitches outside each yarn's outermost ones, at either edge; -1: not in the row. */
struct edge_gaps {
    int right[GRID_YARNS_MAX], left[GRID_YARNS_MAX];
};

static void read_gaps(const uint8_t *yarn_of, int n, struct edge_gaps *gaps)
{
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        gaps->right[yarn] = gaps->left[yarn] = -1;
    for (int i = 0; i < n; i++)
        gaps->left[yarn_of[i]] = n - 1 - i;
    for (int i = n - 1; i >= 0; i--)
        gaps->right[yarn_of[i]] = i;
}

/* The turn after a row: at the left edge after a right-side row. */
static void join_rows(struct plan_band *band, int row, bool right_side, const struct edge_gaps *below,
                      const struct edge_gaps *above)
{
    for (int i = 0; i < band->ncolours; i++) {
        struct plan_colour *colour = &band->colours[i];
        int from = right_side ? below->left[colour->yarn] : below->right[colour->yarn];
        int to = right_side ? above->left[colour->yarn] : above->right[colour->yarn];

        if (from < 0 || to < 0 || from + to <= colour->turn_longest_sts)
            continue;
        colour->turn_longest_sts = from + to;
        colour->turn_row = row;
    }
}

static void caution_turns(struct builder *builder, const struct plan_band *band)
{
    for (int i = 0; i < band->ncolours && !builder->try_at; i++) {
        const struct plan_colour *colour = &band->colours[i];
        const char *name = builder->project->yarns[colour->yarn].name;

        if (colour->turn_longest_sts <= band->leave_sts)
            continue;
        diag_add(builder->work->diagnostics, DIAG_TURN_LONG, builder->project->edges.at,
                 arena_printf(builder->work->arena,
                              "Turning after row %d of %s, %s crosses %d stitches at the edge to its "
                              "next one; %d are left loose, and nothing catches it there.",
                              colour->turn_row + 1, band->name, name, colour->turn_longest_sts,
                              band->leave_sts),
                 "Write edges = anchor, so that every yarn goes to the edge; or catch it by hand as "
                 "you come to it.");
    }
}

/* Flat, with yarns turned where they are: how far a yarn crosses at an edge, from its last stitch of a row
 * to its first of the next. */
static void fill_turns(struct builder *builder, struct plan_band *band)
{
    const struct project *project = builder->project;
    size_t width = (size_t)(band->stitches + band->side_sts);
    struct arena *scratch;
    uint8_t *yarn_of;
    struct edge_gaps first = {{0}, {0}}, gaps[2];
    int times = band->upwards > 1 ? 2 : 1; /* an odd number of rows turns at the other edge next time */

    if (project->worked.value == WORKED_ROUND || project->edges.value != EDGE_TURN)
        return;
    scratch = arena_branch(builder->work->arena);
    yarn_of = arena_alloc(scratch, width, 1);
    for (int time = 0; time < times; time++)
        for (int row = 0; row < band->rows; row++) {
            int at = time * band->rows + row;
            bool right_side = (band->first_round + at) % 2 == 1;

            read_gaps(yarn_of, plan_read_whole_row(band, row, yarn_of, NULL), &gaps[at % 2]);
            if (at == 0)
                first = gaps[0];
            else
                join_rows(band, (at - 1) % band->rows, !right_side, &gaps[(at + 1) % 2], &gaps[at % 2]);
            if (at + 1 == times * band->rows && band->upwards > 2)
                join_rows(band, row, right_side, &gaps[at % 2], &first);
        }
    arena_destroy(scratch);
    for (int i = 0; i < band->ncolours; i++)
        band->colours[i].turn_longest_in = band->colours[i].turn_longest_sts / builder->piece->gauge.per_in;
    caution_turns(builder, band);
}

static void fill_band(struct builder *builder, struct plan_band *band)
{
    double worked = (double)(band->stitches + band->side_sts) * band->rows;

    band->leave_sts = builder->leave_sts;
    if (builder_is_open(builder) && worked > CELLS_WORKED_MAX) {
        builder_fault(builder, DIAG_PLAN_SIZE, builder->project->parts[band->part].at,
                      "This band has more stitches than can be planned.",
                      "Check repeats, the measure and its unit.");
        return;
    }
    plan_catches_place(builder, band);
    fill_colours(builder, band);
    band->rows_three_colours = rows_of_three(&band->knitted);
    if (builder_is_open(builder))
        work_open(builder, band);
    else
        work_ring(band);
    sum_colours(builder, band);
    if (!builder->own) /* of a variant nobody asks */
        fill_dents(builder, band);
    band->lengths_fewest = plan_band_fewest(band, band->leave_sts);
    band->has_cliff_above = find_cliff(builder, band, 1, &band->above);
    band->has_cliff_below = find_cliff(builder, band, -1, &band->below);
    caution_one_stitch(builder, band);
    plan_catches_judge(builder, band);
    fill_turns(builder, band);
}

void plan_bands_fill(struct builder *builder)
{
    for (int i = 0; i < builder->piece->nbands && !builder->failed; i++)
        fill_band(builder, &builder->piece->bands[i]);
}
