/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Strand a colour, or sew it on afterwards: for each colour of each band in the rows where that is
 * a choice, what either way takes.
 */
#include "plan/builder.h"
#include "plan/catches/rows.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "model/yarn/duplicate.h"

static const double MM_PER_M = 1000.0;

/* One colour of one band being weighed. */
struct weighing {
    struct builder *builder;
    const struct plan_band *band;
    struct plan_band stranded, repeat; /* the band with the colour knitted in; one repeat of it alone */
    struct duplicate_pace pace;
    int yarn;
    bool sewn_now;
    enum float_ends ends;
    double times; /* a row as read stands so often in all pieces */
    double sparse_ratio, loop_ratio;
    uint8_t *yarn_of; /* room for a row */
    struct float_run *runs;
};

static int pieces_of(const struct builder *builder)
{
    return builder->project->make.value;
}

/* --- a colour knitted in, or not -------------------------------------------------------------------- */

/* The stitches of the yarn in another, by row; below 0: as they are. */
static struct grid put_grid(const struct builder *builder, const struct grid *knitted,
                            const struct grid *drawn, int yarn, const int *in_row)
{
    size_t ncols = (size_t)knitted->ncols, n = (size_t)knitted->nrows * ncols;
    uint8_t *cell = arena_alloc(builder->work->arena, n, 1);

    for (size_t i = 0; i < n; i++) {
        bool mine = drawn->cell[i] == yarn || knitted->cell[i] == yarn;

        cell[i] = mine && in_row[i / ncols] >= 0 ? (uint8_t)in_row[i / ncols] : knitted->cell[i];
    }
    return (struct grid){knitted->nrows, knitted->ncols, cell};
}

static void put_band(const struct builder *builder, struct plan_band *band, int yarn, const int *in_row)
{
    band->knitted = put_grid(builder, &band->knitted, &band->drawn, yarn, in_row);
    band->left_knitted = put_grid(builder, &band->left_knitted, &band->left, yarn, in_row);
    band->right_knitted = put_grid(builder, &band->right_knitted, &band->right, yarn, in_row);
}

/* The chosen rows worked the other way. */
static void turn_band(const struct builder *builder, const struct plan_duplicate *choice,
                      struct plan_band *bands)
{
    struct plan_band *band = &bands[choice->band];
    int *in_row = arena_alloc(builder->work->arena, (size_t)band->rows, sizeof *in_row);

    for (int row = 0; row < band->rows; row++)
        in_row[row] = -1;
    for (int k = 0; k < choice->nrows; k++)
        in_row[choice->rows[k].row] = choice->sewn_now ? choice->yarn : choice->rows[k].under;
    put_band(builder, band, choice->yarn, in_row);
}

static void strand_band(struct weighing *w)
{
    int *in_row = arena_alloc(w->builder->work->arena, (size_t)w->band->rows, sizeof *in_row);

    w->stranded = *w->band;
    for (int row = 0; row < w->band->rows; row++)
        in_row[row] = w->yarn;
    if (w->sewn_now)
        put_band(w->builder, &w->stranded, w->yarn, in_row);
    w->repeat = w->stranded;
    w->repeat.repeats = 1;
    w->repeat.left_knitted.ncols = w->repeat.right_knitted.ncols = 0;
}

/* --- rows ---------------------------------------------------------------- */

static void read_way(const struct weighing *w, int n, struct plan_duplicate_way *way)
{
    struct float_tally tally[GRID_YARNS_MAX] = {{0}};
    int nruns = floats_of_row(w->yarn_of, n, w->ends, w->runs), colours = 0;
    int64_t catches = 0;

    floats_tally_row(w->yarn_of, n, w->runs, nruns, 0, w->band->leave_sts, tally, NULL, 0);
    *way = (struct plan_duplicate_way){0};
    for (int yarn = 0; yarn < w->builder->piece->nyarns; yarn++) {
        const struct float_tally *of = &tally[yarn];
        double metres;

        if (of->stitches == 0)
            continue;
        metres = w->times / MM_PER_M *
                 plan_worked_mm(w->builder, yarn, of->stitches, of->float_stitches, of->catches_fewest);
        way->all_m += metres;
        way->own_m += yarn == w->yarn ? metres : 0.0;
        catches += of->catches_fewest;
        colours++;
    }
    way->catches = llround(w->times * (double)catches);
    way->rows_three = colours >= 3 ? pieces_of(w->builder) * w->band->upwards : 0;
    way->hours = w->times * duplicate_knitting_hours(n, catches, colours, &w->pace);
}

static int64_t count_own(const struct weighing *w, int n)
{
    int64_t count = 0;

    for (int i = 0; i < n; i++)
        count += w->yarn_of[i] == w->yarn;
    return count;
}

/* Returned: whether this row is one to choose in. *holds: the colour is in it. */
static bool weigh_row(const struct weighing *w, int row, struct plan_duplicate_row *out,
                      bool *holds)
{
    /* in the round one repeat is a ring of its own; a row with two ends is read whole */
    const struct plan_band *worked = builder_is_open(w->builder) ? &w->stranded : &w->repeat;
    int n = plan_read_whole_row(w->sewn_now ? worked : &w->repeat, row, w->yarn_of, NULL);
    int64_t own;

    *holds = count_own(w, n) > 0;
    if (!*holds || (!w->sewn_now && !duplicate_is_choice(w->yarn_of, n, w->yarn, w->sparse_ratio)))
        return false;
    n = plan_read_whole_row(worked, row, w->yarn_of, NULL);
    own = count_own(w, n);
    *out = (struct plan_duplicate_row){.row = row};
    out->stitches = llround(w->times * (double)own);
    out->under = w->sewn_now ? w->builder->piece->yarns[w->yarn].over
                             : duplicate_under(w->yarn_of, n, w->yarn);
    read_way(w, n, &out->stranded);
    for (int i = 0; i < n; i++)
        if (w->yarn_of[i] == w->yarn)
            w->yarn_of[i] = (uint8_t)out->under;
    read_way(w, n, &out->sewn);
    out->sewn.own_m = w->times / MM_PER_M * w->loop_ratio *
                      plan_worked_mm(w->builder, out->under, own, 0, 0);
    out->sewn.all_m += out->sewn.own_m;
    out->sewn.hours += w->times * duplicate_sewing_hours(own, 0, &w->pace);
    return true;
}

/* --- the colour --------------------------------------------------------------------------------
 */

static void add_way(struct plan_duplicate_way *sum, const struct plan_duplicate_way *one)
{
    sum->own_m += one->own_m;
    sum->all_m += one->all_m;
    sum->catches += one->catches;
    sum->rows_three += one->rows_three;
    sum->hours += one->hours;
}

static bool alike(const struct plan_duplicate_way *a, const struct plan_duplicate_way *b)
{
    const double hair = 1e-9; /* sums of the same in another order */

    return a->catches == b->catches && a->rows_three == b->rows_three &&
           fabs(a->own_m - b->own_m) < hair && fabs(a->all_m - b->all_m) < hair &&
           fabs(a->hours - b->hours) < hair;
}

static void group_rows(const struct builder *builder, struct plan_duplicate *choice)
{
    choice->groups =
        arena_alloc(builder->work->arena, (size_t)choice->nrows, sizeof *choice->groups);
    for (int i = 0; i < choice->nrows; i++) {
        const struct plan_duplicate_row *row = &choice->rows[i], *before = row - 1;
        struct plan_duplicate_group *group;

        if (i == 0 || row->row != before->row + 1 || row->stitches != before->stitches ||
            !alike(&row->stranded, &before->stranded) || !alike(&row->sewn, &before->sewn))
            choice->groups[choice->ngroups++] = (struct plan_duplicate_group){.first_row = row->row};
        group = &choice->groups[choice->ngroups - 1];
        group->last_row = row->row;
        group->stitches += row->stitches;
        add_way(&group->stranded, &row->stranded);
        add_way(&group->sewn, &row->sewn);
    }
}

/* A yarn starts, waits and ends by the rows it is in, edges are worked in all yarns of a row, and spots have
 * travel and tails. */
static double apart_m(const struct plan_yarn *yarn)
{
    return yarn->use_m[USE_SELVEDGE] + yarn->use_m[USE_STEEK] + yarn->use_m[USE_CARRIED] +
           yarn->use_m[USE_TAILS];
}

static struct plan_band *copy_bands(const struct builder *builder)
{
    const struct plan_piece *piece = builder->piece;
    struct plan_band *bands =
        arena_alloc(builder->work->arena, (size_t)piece->nbands, sizeof *bands);

    memcpy(bands, piece->bands, (size_t)piece->nbands * sizeof *bands);
    return bands;
}

static void judge(const struct builder *builder, struct plan_duplicate *choice)
{
    double worth = builder_threshold(builder, "duplicate_worth_hours");

    add_way(&choice->stranded, &choice->stranded_apart);
    add_way(&choice->sewn, &choice->sewn_apart);
    choice->saved_m = choice->stranded.all_m - choice->sewn.all_m;
    choice->saved_hours = choice->stranded.hours - choice->sewn.hours;
    choice->saved_catches = choice->stranded.catches - choice->sewn.catches;
    choice->saved_rows_three = choice->stranded.rows_three - choice->sewn.rows_three;
    choice->verdict = choice->saved_hours >= worth    ? DUPLICATE_SEW
                      : choice->saved_hours <= -worth ? DUPLICATE_STRAND
                                                      : DUPLICATE_EITHER;
    /* Rows of three colours are trouble of their own, as long as getting rid of them costs no time
     * to speak of. That it is quicker to strand what she strands is no news. */
    choice->notable = choice->verdict == DUPLICATE_SEW ||
                      (choice->verdict == DUPLICATE_STRAND && choice->sewn_now) ||
                      (choice->verdict == DUPLICATE_EITHER && choice->saved_rows_three > 0);
}

/* Of what belongs to no row, by the piece planned the other way: what one way takes more of belongs to it; what
 * both take, to neither. With that the two ways are judged. */
static void weigh_apart(const struct builder *builder, struct plan_band *bands,
                        const struct duplicate_pace *pace, struct plan_duplicate *sum)
{
    const struct plan_yarn *own = builder->piece->yarns;
    struct work work = *builder->work;
    struct builder here = *builder;
    struct plan_piece other;

    here.work = &work;
    work.arena = arena_branch(builder->work->arena);
    plan_variant(&here, &(struct variant){.bands = bands, .parts = PIECE_YARNS}, &other, NULL);
    for (int i = 0; i < other.nyarns; i++) {
        double more_m = apart_m(&own[i]) - apart_m(&other.yarns[i]);
        bool stranded = sum->sewn_now ? more_m < 0.0 : more_m > 0.0;
        struct plan_duplicate_way *way = stranded ? &sum->stranded_apart : &sum->sewn_apart;

        way->all_m += fabs(more_m);
        way->own_m += i == sum->yarn ? fabs(more_m) : 0.0;
    }
    sum->spots = llabs(own[sum->yarn].duplicate_spots - other.yarns[sum->yarn].duplicate_spots);
    sum->sewn_apart.own_m += fabs(own[sum->yarn].spots_m - other.yarns[sum->yarn].spots_m);
    sum->sewn_apart.all_m += fabs(own[sum->yarn].spots_m - other.yarns[sum->yarn].spots_m);
    sum->sewn_apart.hours += duplicate_sewing_hours(0, sum->spots, pace);
    arena_destroy(work.arena);
    judge(builder, sum);
}

/* Returned: whether there is anything to choose. */
static bool weigh_colour(struct weighing *w, struct plan_duplicate *choice)
{
    int holding = 0;

    strand_band(w);
    choice->rows =
        arena_alloc(w->builder->work->arena, (size_t)w->band->rows, sizeof *choice->rows);
    for (int row = 0; row < w->band->rows; row++) {
        bool holds;

        if (weigh_row(w, row, &choice->rows[choice->nrows], &holds)) {
            choice->stitches += choice->rows[choice->nrows].stitches;
            add_way(&choice->stranded, &choice->rows[choice->nrows].stranded);
            add_way(&choice->sewn, &choice->rows[choice->nrows].sewn);
            choice->nrows++;
        }
        holding += holds;
    }
    if (choice->nrows == 0)
        return false;
    choice->all_rows = choice->nrows == holding;
    choice->yarn = w->yarn;
    choice->sewn_now = w->sewn_now;
    group_rows(w->builder, choice);
    return true;
}

/* --- the piece -----------------------------------------------------------------------------------
 */

static struct duplicate_pace read_pace(const struct builder *builder)
{
    const struct given_whole *own = &builder->project->pace_sts_per_hour;

    return (struct duplicate_pace){
        .sts_per_hour = own->value,
        .one_colour_ratio = builder_threshold(builder, "pace_one_colour_ratio"),
        .three_colours_ratio = builder_threshold(builder, "pace_three_colours_ratio"),
        .catch_sts = builder_threshold(builder, "pace_catch_stitches"),
        .sewn_sts = builder_threshold(builder, "pace_duplicate_stitches"),
        .spot_sts = builder_threshold(builder, "pace_spot_stitches"),
    };
}

static void weigh_band(struct builder *builder, struct plan *plan, int index,
                       const struct duplicate_pace *pace)
{
    const struct plan_band *band = &builder->piece->bands[index];
    bool open = builder_is_open(builder);
    size_t width = (size_t)(band->stitches + band->side_sts);
    struct weighing w = {
        .builder = builder,
        .band = band,
        .pace = *pace,
        .ends = open ? plan_open_piece(builder, band).ends : FLOATS_RING,
        .times = (double)pieces_of(builder) * band->upwards * (open ? 1 : band->repeats),
        .sparse_ratio = builder_threshold(builder, "duplicate_sparse_ratio"),
        .loop_ratio = builder_threshold(builder, "duplicate_loop_ratio"),
        .yarn_of = arena_alloc(builder->work->arena, width, 1),
        .runs = arena_alloc(builder->work->arena, width + 2 * GRID_YARNS_MAX, sizeof *w.runs),
    };

    for (w.yarn = 0; w.yarn < builder->piece->nyarns; w.yarn++) {
        struct plan_duplicate *choice = &plan->duplicates[plan->nduplicates];

        w.sewn_now = builder->piece->yarns[w.yarn].over >= 0;
        choice->band = index;
        if (weigh_colour(&w, choice))
            plan->nduplicates++;
        else
            *choice = (struct plan_duplicate){0};
    }
}

/* All choices of a yarn at once: what belongs to no row is less, or more, than band by band. */
static void sum_yarn(const struct builder *builder, struct plan *plan, int yarn,
                     const struct duplicate_pace *pace)
{
    struct plan_duplicate *sum = &plan->duplicate_yarns[plan->nduplicate_yarns];
    struct plan_band *bands = copy_bands(builder);
    bool any = false;

    *sum = (struct plan_duplicate){.band = -1, .yarn = yarn, .all_rows = true};
    for (int i = 0; i < plan->nduplicates; i++) {
        const struct plan_duplicate *choice = &plan->duplicates[i];

        if (choice->yarn != yarn)
            continue;
        any = true;
        sum->sewn_now = choice->sewn_now;
        sum->all_rows = sum->all_rows && choice->all_rows;
        sum->stitches += choice->stitches;
        for (int k = 0; k < choice->nrows; k++) {
            add_way(&sum->stranded, &choice->rows[k].stranded);
            add_way(&sum->sewn, &choice->rows[k].sewn);
        }
        turn_band(builder, choice, bands);
    }
    if (!any)
        return;
    weigh_apart(builder, bands, pace, sum);
    plan->nduplicate_yarns++;
}

/* Only where it is more than has been said: in several bands, and of some of them. */
static bool says_sum(const struct plan *plan, int yarn)
{
    int bands = 0;
    bool notable = false;

    for (int i = 0; i < plan->nduplicates; i++)
        if (plan->duplicates[i].yarn == yarn) {
            bands++;
            notable = notable || plan->duplicates[i].notable;
        }
    return bands > 1 && notable;
}

static bool helps_long(const struct plan_piece *piece, const struct plan_duplicate *sum)
{
    return piece->very_long && sum->saved_catches > 0 && sum->verdict != DUPLICATE_STRAND;
}

static void sum_up(const struct builder *builder, struct plan *plan, const struct duplicate_pace *pace)
{
    const struct plan_piece *piece = builder->piece;

    plan->duplicate_yarns =
        arena_alloc(builder->work->arena, (size_t)piece->nyarns, sizeof *plan->duplicate_yarns);
    for (int yarn = 0; yarn < piece->nyarns; yarn++)
        sum_yarn(builder, plan, yarn, pace);
    for (int i = 0; i < plan->nduplicates; i++) {
        struct plan_band *bands = copy_bands(builder);

        turn_band(builder, &plan->duplicates[i], bands);
        weigh_apart(builder, bands, pace, &plan->duplicates[i]);
    }
    for (int i = 0; i < plan->nduplicate_yarns; i++) {
        struct plan_duplicate *sum = &plan->duplicate_yarns[i];

        sum->notable = says_sum(plan, sum->yarn);
        sum->hinted = !sum->sewn_now && (sum->saved_rows_three > 0 || helps_long(piece, sum));
    }
}

/* The plan rests on them only where something is said. */
static void note_basis(const struct builder *builder, const struct plan *plan)
{
    static const char *const keys[] = {
        "duplicate_loop_ratio",    "duplicate_tails_in",       "duplicate_reach_stitches",
        "pace_one_colour_ratio",   "pace_three_colours_ratio", "pace_catch_stitches",
        "pace_duplicate_stitches", "pace_spot_stitches",
    };
    bool notable = false;

    for (int i = 0; i < plan->nduplicates; i++)
        notable = notable || plan->duplicates[i].notable;
    for (int i = 0; i < plan->nduplicate_yarns; i++)
        notable = notable || plan->duplicate_yarns[i].hinted;
    for (size_t i = 0; notable && i < sizeof keys / sizeof keys[0]; i++)
        builder_value(builder, keys[i]);
    if (notable)
        builder_rest_on(builder, builder->project->pace_sts_per_hour.allowance);
}

void plan_duplicates_set(struct builder *builder, struct plan *plan)
{
    struct duplicate_pace pace = read_pace(builder);
    const struct plan_piece *piece = builder->piece;

    plan->pace_sts_per_hour = pace.sts_per_hour;
    plan->pace_given = !builder->project->pace_sts_per_hour.allowance;
    plan->duplicates =
        arena_alloc(builder->work->arena, (size_t)piece->nbands * (size_t)piece->nyarns + 1,
                    sizeof *plan->duplicates);
    for (int i = 0; i < piece->nbands; i++)
        weigh_band(builder, plan, i, &pace);
    sum_up(builder, plan, &pace);
    note_basis(builder, plan);
}
