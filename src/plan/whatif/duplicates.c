/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Strand a colour, or sew it on afterwards: for each colour of each band in the rows where that is
 * a choice, what either way takes.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"
#include "model/yarn/duplicate.h"

static const double MM_PER_IN = 25.4; /* exact by definition */
static const double MM_PER_M = 1000.0;

/* One colour of one band being weighed. */
struct weighing {
    struct builder *builder;
    const struct plan_band *band;
    struct duplicate_pace pace;
    int yarn;
    bool sewn_now;
    enum float_ends ends;
    double times; /* a row as read stands so often in all pieces */
    double sparse_ratio, catch_widths, loop_ratio;
    uint8_t *yarn_of; /* room for a row */
    struct float_run *runs;
};

static int pieces_of(const struct builder *builder)
{
    return builder->project->make.value;
}

static double loop_mm(const struct weighing *w, int yarn)
{
    return w->builder->piece->loop.yarn[yarn].loop_mm;
}

static double strands_mm(const struct weighing *w, int64_t float_stitches, int64_t catches)
{
    const struct plan_piece *piece = w->builder->piece;
    double width_mm = piece->gauge.stitch_width_mm;

    return yarn_floats_mm(float_stitches, width_mm, piece->loop.slack_ratio) +
           yarn_catches_mm(catches, width_mm, w->catch_widths);
}

/* The stitches of a row, each of its own yarn. */
static double stitches_mm(const struct weighing *w, int n)
{
    double mm = 0.0;

    for (int i = 0; i < n; i++)
        mm += loop_mm(w, w->yarn_of[i]);
    return mm;
}

static void read_way(const struct weighing *w, int n, struct plan_duplicate_way *way)
{
    struct duplicate_row row;

    duplicate_row_read(w->yarn_of, n, w->ends, w->band->leave_sts, w->yarn, w->runs, &row);
    way->own_m = w->times *
                 (yarn_stitches_mm(row.own_stitches, loop_mm(w, w->yarn)) +
                  strands_mm(w, row.own_float_stitches, row.own_catches)) /
                 MM_PER_M;
    way->all_m =
        w->times * (stitches_mm(w, n) + strands_mm(w, row.float_stitches, row.catches)) / MM_PER_M;
    way->catches = llround(w->times * (double)row.catches);
    way->rows_three = row.colours >= 3 ? pieces_of(w->builder) * w->band->upwards : 0;
    way->hours = w->times * duplicate_knitting_hours(&row, &w->pace);
}

/* --- rows ---------------------------------------------------------------- */

static int read_repeat(const struct weighing *w, int row)
{
    const struct grid *grid = &w->band->knitted;
    int n = 0;

    for (int c = 0; c < grid->ncols; c++) {
        uint8_t yarn = grid_at(grid, row, c);

        if (yarn != GRID_NO_STITCH)
            w->yarn_of[n++] = yarn;
    }
    return n;
}

/* The stitches of the colour that is sewn on, put where it lies; returned: how many. */
static int64_t put_sewn(const struct weighing *w, int row)
{
    const struct plan_band *band = w->band;
    const struct grid *grids[3] = {&band->right, &band->drawn, &band->left};
    bool open = builder_is_open(w->builder);
    int64_t found = 0;
    int n = 0;

    for (int g = 0; g < 3; g++) {
        int times = !open ? g == 1 : g == 1 ? band->repeats : 1;

        for (int i = 0; i < times * grids[g]->ncols; i++) {
            size_t column = (size_t)(i % grids[g]->ncols);
            uint8_t yarn = grids[g]->cell[(size_t)row * (size_t)grids[g]->ncols + column];

            if (yarn == w->yarn)
                w->yarn_of[n] = yarn;
            found += yarn == w->yarn;
            n += yarn != GRID_NO_STITCH;
        }
    }
    return found;
}

/* In the round one repeat is a ring of its own; a row with two ends is read whole. */
static int read_worked(const struct weighing *w, int row)
{
    int n = builder_is_open(w->builder) ? plan_read_whole_row(w->band, row, w->yarn_of)
                                        : read_repeat(w, row);

    if (w->sewn_now)
        put_sewn(w, row);
    return n;
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
    int n = read_repeat(w, row);
    int64_t own;

    *holds = w->sewn_now ? put_sewn(w, row) > 0 : count_own(w, n) > 0;
    if (!*holds || (!w->sewn_now && !duplicate_is_choice(w->yarn_of, n, w->yarn, w->sparse_ratio)))
        return false;
    n = read_worked(w, row);
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
    out->sewn.own_m = w->times * w->loop_ratio *
                      yarn_stitches_mm(own, loop_mm(w, out->under)) / MM_PER_M;
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

/* The chosen rows alone, so that spots are those that would be sewn. */
static struct grid only_rows(const struct weighing *w, const struct grid *grid,
                             const struct plan_duplicate *choice)
{
    size_t ncols = (size_t)grid->ncols, n = (size_t)grid->nrows * ncols;
    uint8_t *cell = arena_alloc(w->builder->work->arena, n, 1);

    for (size_t i = 0; i < n; i++)
        cell[i] = GRID_NO_STITCH;
    for (int k = 0; k < choice->nrows; k++)
        for (size_t i = (size_t)choice->rows[k].row * ncols, c = 0; c < ncols; c++)
            cell[i + c] = grid->cell[i + c];
    return (struct grid){grid->nrows, grid->ncols, cell};
}

/* Travel and tails of the spots, and the time of their ends. */
static void add_spots(const struct weighing *w, struct plan_duplicate *choice)
{
    const struct builder *builder = w->builder;
    const struct plan_piece *piece = builder->piece;
    const struct plan_band *band = w->band;
    const struct grid *grids[3] = {&band->drawn, &band->left, &band->right};
    int reach = (int)builder_threshold(builder, "duplicate_reach_stitches");
    double tails_mm = builder_threshold(builder, "duplicate_tails_in") * MM_PER_IN;
    int64_t pieces = pieces_of(builder);

    for (int g = 0; g < 3; g++) {
        int64_t times = pieces * band->upwards * (g == 0 ? band->repeats : 1);
        struct grid rows = only_rows(w, grids[g], choice);
        struct duplicate_tally tally;
        double mm;

        duplicate_tally_grid(builder->work, &rows, w->yarn, reach, &tally);
        mm = (double)tally.across_sts * piece->gauge.stitch_width_mm +
             (double)tally.up_rows * piece->gauge.row_height_mm + (double)tally.spots * tails_mm;
        choice->spots += times * tally.spots;
        choice->sewn_apart.own_m += (double)times * mm / MM_PER_M;
        choice->sewn_apart.all_m += (double)times * mm / MM_PER_M;
    }
    choice->sewn_apart.hours += duplicate_sewing_hours(0, choice->spots, &w->pace);
}

/* --- what belongs to no row ---------------------------------------------------------------------- */

/* The stitches that are chosen in, in the yarn they have the other way. */
static struct grid other_grid(const struct builder *builder, const struct plan_duplicate *choice,
                              const struct grid *knitted, const struct grid *drawn)
{
    size_t ncols = (size_t)knitted->ncols, n = (size_t)knitted->nrows * ncols;
    uint8_t *cell = arena_alloc(builder->work->arena, n, 1);
    const struct grid *mine = choice->sewn_now ? drawn : knitted;

    for (size_t i = 0; i < n; i++)
        cell[i] = knitted->cell[i];
    for (int k = 0; k < choice->nrows; k++)
        for (size_t i = (size_t)choice->rows[k].row * ncols, c = 0; c < ncols; c++)
            if (mine->cell[i + c] == choice->yarn)
                cell[i + c] =
                    (uint8_t)(choice->sewn_now ? choice->yarn : choice->rows[k].under);
    return (struct grid){knitted->nrows, knitted->ncols, cell};
}

static void turn_band(const struct builder *builder, const struct plan_duplicate *choice,
                      struct plan_band *bands)
{
    struct plan_band *band = &bands[choice->band];

    band->knitted = other_grid(builder, choice, &band->knitted, &band->drawn);
    band->left_knitted = other_grid(builder, choice, &band->left_knitted, &band->left);
    band->right_knitted = other_grid(builder, choice, &band->right_knitted, &band->right);
}

/* A yarn starts, waits and ends by the rows it is in, and edges are worked in all yarns of a row. What
 * one way takes more of that than the other belongs to it; what both take, to neither. */
static void add_between(const struct builder *builder, const double *now_mm, struct plan_band *bands,
                        struct plan_duplicate *sum)
{
    int nyarns = builder->piece->nyarns;
    double *mm = arena_alloc(builder->work->arena, (size_t)nyarns, sizeof *mm);

    plan_yarns_between(builder, bands, mm);
    for (int i = 0; i < nyarns; i++) {
        double more_m = pieces_of(builder) * (now_mm[i] - mm[i]) / MM_PER_M;
        bool stranded = sum->sewn_now ? more_m < 0.0 : more_m > 0.0;
        struct plan_duplicate_way *way = stranded ? &sum->stranded_apart : &sum->sewn_apart;

        way->all_m += fabs(more_m);
        way->own_m += i == sum->yarn ? fabs(more_m) : 0.0;
    }
}

static struct plan_band *copy_bands(const struct builder *builder)
{
    const struct plan_piece *piece = builder->piece;
    struct plan_band *bands =
        arena_alloc(builder->work->arena, (size_t)piece->nbands, sizeof *bands);

    for (int i = 0; i < piece->nbands; i++)
        bands[i] = piece->bands[i];
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

/* Returned: whether there is anything to choose. */
static bool weigh_colour(const struct weighing *w, struct plan_duplicate *choice)
{
    int holding = 0;

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
    add_spots(w, choice);
    return true;
}

/* --- the piece -----------------------------------------------------------------------------------
 */

static struct duplicate_pace read_pace(const struct builder *builder)
{
    const struct given_whole *own = &builder->project->pace_sts_per_hour;

    return (struct duplicate_pace){
        .sts_per_hour = own->given ? own->value : builder_threshold(builder, "pace_sts_per_hour"),
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
    bool turn = builder->project->edges.value == EDGE_TURN;
    size_t width = (size_t)(band->stitches + band->side_sts);
    struct weighing w = {
        .builder = builder,
        .band = band,
        .pace = *pace,
        .ends = !open  ? FLOATS_RING
                : turn ? FLOATS_TURN
                       : FLOATS_ANCHOR,
        .times = (double)pieces_of(builder) * band->upwards * (open ? 1 : band->repeats),
        .sparse_ratio = builder_threshold(builder, "duplicate_sparse_ratio"),
        .catch_widths = builder_threshold(builder, "catch_stitch_widths"),
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
static void sum_yarn(const struct builder *builder, struct plan *plan, int yarn, const double *now_mm)
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
        sum->spots += choice->spots;
        for (int k = 0; k < choice->nrows; k++) {
            add_way(&sum->stranded, &choice->rows[k].stranded);
            add_way(&sum->sewn, &choice->rows[k].sewn);
        }
        add_way(&sum->sewn_apart, &choice->sewn_apart); /* of the spots, so far */
        turn_band(builder, choice, bands);
    }
    if (!any)
        return;
    add_between(builder, now_mm, bands, sum);
    judge(builder, sum);
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

static void sum_up(const struct builder *builder, struct plan *plan)
{
    const struct plan_piece *piece = builder->piece;
    double *now_mm = arena_alloc(builder->work->arena, (size_t)piece->nyarns, sizeof *now_mm);

    plan->duplicate_yarns =
        arena_alloc(builder->work->arena, (size_t)piece->nyarns, sizeof *plan->duplicate_yarns);
    if (plan->nduplicates == 0)
        return;
    plan_yarns_between(builder, piece->bands, now_mm);
    for (int yarn = 0; yarn < piece->nyarns; yarn++)
        sum_yarn(builder, plan, yarn, now_mm);
    for (int i = 0; i < plan->nduplicates; i++) {
        struct plan_band *bands = copy_bands(builder);

        turn_band(builder, &plan->duplicates[i], bands);
        add_between(builder, now_mm, bands, &plan->duplicates[i]);
        judge(builder, &plan->duplicates[i]);
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
    if (notable && !plan->pace_given)
        builder_value(builder, "pace_sts_per_hour");
}

void plan_duplicates_set(struct builder *builder, struct plan *plan)
{
    struct duplicate_pace pace = read_pace(builder);
    const struct plan_piece *piece = builder->piece;

    plan->pace_sts_per_hour = pace.sts_per_hour;
    plan->pace_given = builder->project->pace_sts_per_hour.given;
    plan->duplicates =
        arena_alloc(builder->work->arena, (size_t)piece->nbands * (size_t)piece->nyarns + 1,
                    sizeof *plan->duplicates);
    for (int i = 0; i < piece->nbands; i++)
        weigh_band(builder, plan, i, &pace);
    sum_up(builder, plan);
    note_basis(builder, plan);
}
