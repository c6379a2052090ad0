/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where every metre goes.
 */
#include "plan/builder.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "model/yarn/duplicate.h"

static const double MM_PER_IN = 25.4; /* exact by definition */
static const double MM_PER_M = 1000.0;

const char *plan_use_name(enum yarn_use use)
{
    static const char *const names[USE_COUNT] = {
        [USE_STITCHES] = "stitches of the bands",
        [USE_FLOATS] = "floats of the bands",
        [USE_CATCHES] = "catches",
        [USE_CAST_ON] = "cast-on",
        [USE_RIB] = "rib",
        [USE_PLAIN] = "plain parts",
        [USE_SELVEDGE] = "selvedge stitches",
        [USE_STEEK] = "steek",
        [USE_BIND_OFF] = "bind-off",
        [USE_SEAM] = "seams",
        [USE_CARRIED] = "carried up while waiting",
        [USE_TAILS] = "tails and joins",
        [USE_DUPLICATE] = "duplicate stitch",
        [USE_SWATCH] = "swatch",
    };
    return names[use];
}

struct ledger {
    struct builder *builder;
    double (*use_mm)[USE_COUNT]; /* use_mm[yarn][use], one piece */
    double *step_m;              /* the same by step and yarn, in metres */
    double (*step_use_m)[USE_COUNT]; /* and by use */
    int step;                    /* what is entered belongs to; nsteps: sewn on afterwards */
};

static struct ledger ledger_open(struct builder *builder)
{
    struct arena *arena = builder->work->arena;
    size_t nyarns = (size_t)builder->piece->nyarns;
    size_t nsteps = (size_t)builder->piece->nsteps + 1;
    struct ledger ledger = {.builder = builder};

    ledger.use_mm = arena_alloc(arena, nyarns, sizeof *ledger.use_mm);
    ledger.step_m = arena_alloc(arena, nsteps * nyarns, sizeof *ledger.step_m);
    ledger.step_use_m = arena_alloc(arena, nsteps * nyarns, sizeof *ledger.step_use_m);
    return ledger;
}

static void enter_in_step(struct ledger *ledger, int yarn, enum yarn_use use, double mm)
{
    int at = ledger->step * ledger->builder->piece->nyarns + yarn;

    ledger->step_m[at] += mm / MM_PER_M;
    ledger->step_use_m[at][use] += mm / MM_PER_M;
}

static void enter(struct ledger *ledger, int yarn, enum yarn_use use, double mm)
{
    ledger->use_mm[yarn][use] += mm;
    enter_in_step(ledger, yarn, use, mm);
}

/* --- bands --------------------------------------------------------------------------------- */

double plan_worked_mm(const struct builder *builder, int yarn, int64_t stitches, int64_t float_stitches,
                      int64_t catches)
{
    const struct plan_piece *piece = builder->piece;
    double width_mm = piece->gauge.stitch_width_mm;

    return yarn_stitches_mm(stitches, piece->loop.yarn[yarn].loop_mm) +
           yarn_floats_mm(float_stitches, width_mm, piece->loop.slack_ratio) +
           yarn_catches_mm(catches, width_mm, builder_value(builder, "catch_stitch_widths"));
}

static void enter_band(struct ledger *ledger, const struct plan_band *band)
{
    const struct builder *builder = ledger->builder;

    for (int i = 0; i < band->ncolours; i++) {
        const struct plan_colour *colour = &band->colours[i];
        struct plan_yarn *yarn = &builder->piece->yarns[colour->yarn];

        yarn->stitches += colour->piece_stitches;
        yarn->float_stitches += colour->piece_float_stitches;
        yarn->catches += colour->piece_catches;
        yarn->spares += colour->piece_spares;
        enter(ledger, colour->yarn, USE_STITCHES,
              plan_worked_mm(builder, colour->yarn, colour->piece_stitches, 0, 0));
        enter(ledger, colour->yarn, USE_FLOATS,
              plan_worked_mm(builder, colour->yarn, 0, colour->piece_float_stitches, 0));
        enter(ledger, colour->yarn, USE_CATCHES,
              plan_worked_mm(builder, colour->yarn, 0, 0, colour->piece_catches));
    }
}

static uint64_t yarns_of_row(const struct plan_band *band, int row)
{
    const struct grid *grids[3] = {&band->right_knitted, &band->knitted, &band->left_knitted};
    bool seen[256] = {false};
    uint64_t yarns = 0;

    for (int g = 0; g < 3; g++)
        for (int c = 0; c < grids[g]->ncols; c++)
            seen[grid_at(grids[g], row, c)] = true;
    for (int i = 0; i < GRID_YARNS_MAX; i++)
        if (seen[i])
            yarns |= (uint64_t)1 << i;
    return yarns;
}

static int count_bits(uint64_t bits)
{
    int n = 0;

    for (; bits; bits &= bits - 1)
        n++;
    return n;
}

/* Selvedge and steek are worked with all the yarns of the row in turn: each gets its share of the
 * stitches and floats behind the others' (our model; common practice gives about half to each of two). */
static void enter_edges_of_band(struct ledger *ledger, const struct plan_band *band)
{
    const struct plan_piece *piece = ledger->builder->piece;
    double strand_mm = piece->gauge.stitch_width_mm * piece->loop.slack_ratio;
    double edge[2] = {piece->cast_on.selvedge_sts, piece->cast_on.steek_sts};
    enum yarn_use use[2] = {USE_SELVEDGE, USE_STEEK};

    for (int row = 0; row < band->rows && edge[0] + edge[1] > 0; row++) {
        uint64_t yarns = yarns_of_row(band, row);
        double share = 1.0 / count_bits(yarns);

        for (int yarn = 0; yarn < piece->nyarns; yarn++)
            for (int k = 0; k < 2 && (yarns >> yarn & 1); k++)
                enter(ledger, yarn, use[k],
                      band->upwards * edge[k] *
                          (share * piece->loop.yarn[yarn].loop_mm + (1.0 - share) * strand_mm));
    }
}

/* A yarn is sewn on where it is drawn over another. Returned: on how many stitches; *loop_mm: of those under it,
 * in the mean. */
static int64_t count_sewn(const struct plan_piece *piece, const struct grid *drawn, const struct grid *knitted,
                          int yarn, double *loop_mm)
{
    size_t n = (size_t)drawn->nrows * (size_t)drawn->ncols;
    int64_t covered[256] = {0}, count = 0;

    for (size_t i = 0; i < n; i++)
        if (drawn->cell[i] == yarn && knitted->cell[i] != yarn) {
            covered[knitted->cell[i]]++;
            count++;
        }
    *loop_mm = 0.0;
    for (int i = 0; i < piece->nyarns; i++)
        if (covered[i] > 0)
            *loop_mm += (double)covered[i] / (double)count * piece->loop.yarn[i].loop_mm;
    return count;
}

static struct grid sewn_grid(const struct builder *builder, const struct grid *drawn,
                             const struct grid *knitted, int yarn)
{
    size_t n = (size_t)drawn->nrows * (size_t)drawn->ncols;
    uint8_t *cell = arena_alloc(builder->work->arena, n, 1);

    for (size_t i = 0; i < n; i++)
        cell[i] = knitted->cell[i] == yarn ? GRID_NO_STITCH : drawn->cell[i];
    return (struct grid){drawn->nrows, drawn->ncols, cell};
}

/* It covers stitches of the other; the strand passes behind from one to the next. */
static void enter_duplicates(struct ledger *ledger, const struct plan_band *band, int index)
{
    struct builder *builder = ledger->builder;
    const struct plan_piece *piece = builder->piece;
    struct plan_yarn *yarn = &builder->piece->yarns[index];
    const struct grid *drawn[3] = {&band->drawn, &band->left, &band->right};
    const struct grid *under[3] = {&band->knitted, &band->left_knitted, &band->right_knitted};
    double loop_mm;

    for (int g = 0; g < 3; g++) {
        int64_t times = (int64_t)band->upwards * (g == 0 ? band->repeats : 1);
        struct duplicate_tally tally;
        struct grid sewn;
        double travel_mm, tails_mm;

        if (count_sewn(piece, drawn[g], under[g], index, &loop_mm) == 0)
            continue;
        sewn = sewn_grid(builder, drawn[g], under[g], index);
        duplicate_tally_grid(builder->work, &sewn, index,
                             (int)builder_value(builder, "duplicate_reach_stitches"), &tally);
        travel_mm = (double)tally.across_sts * piece->gauge.stitch_width_mm +
                    (double)tally.up_rows * piece->gauge.row_height_mm;
        tails_mm = builder_value(builder, "duplicate_tails_in") * MM_PER_IN;
        yarn->duplicate_stitches += tally.stitches * times;
        yarn->duplicate_spots += tally.spots * times;
        yarn->spots_m += (double)times * (travel_mm + (double)tally.spots * tails_mm) / MM_PER_M;
        enter(ledger, index, USE_DUPLICATE,
              (double)times * yarn_duplicate_mm(tally.stitches, loop_mm,
                                                builder_value(builder, "duplicate_loop_ratio"), travel_mm,
                                                tally.spots, tails_mm));
    }
}

/* --- everything that is not a band ------------------------------------------------------------ */

static void enter_cast_on(struct ledger *ledger, const struct plan_step *step)
{
    const struct builder *builder = ledger->builder;
    const struct plan_cast_on *cast_on = &builder->piece->cast_on;
    double width_mm = cast_on->width_in * MM_PER_IN;
    double mm = 0.0;

    if (cast_on->kind == CAST_ON_LONG_TAIL)
        mm = step->length_in * MM_PER_IN +
             yarn_stitches_mm(cast_on->stitches, builder->piece->loop.yarn[step->yarn].plain_loop_mm);
    else if (cast_on->kind == CAST_ON_OTHER)
        mm = yarn_edge_mm(width_mm, builder_value(builder, "cast_on_other_widths"), 0.0);
    enter(ledger, step->yarn, USE_CAST_ON, mm);
}

/* Two-colour rib: the knit stitches in one yarn, the purls in the other, each floating behind
 * the other's. */
static void enter_rib(struct ledger *ledger, const struct plan_step *step)
{
    const struct builder *builder = ledger->builder;
    const struct plan_piece *piece = builder->piece;
    const struct plan_cast_on *cast_on = &piece->cast_on;
    double ratio = builder_value(builder, "rib_loop_ratio");
    double strand_mm = piece->gauge.stitch_width_mm * piece->loop.slack_ratio;
    int64_t purls = 0;

    if (step->yarn2 >= 0)
        purls = step->rows * (step->from_sts / (cast_on->rib_knit + cast_on->rib_purl)) *
                cast_on->rib_purl;
    enter(ledger, step->yarn, USE_RIB,
          yarn_stitches_mm(step->stitches - purls,
                           ratio * piece->loop.yarn[step->yarn].plain_loop_mm) +
               (double)purls * strand_mm);
    if (step->yarn2 >= 0)
        enter(ledger, step->yarn2, USE_RIB,
              yarn_stitches_mm(purls, ratio * piece->loop.yarn[step->yarn2].plain_loop_mm) +
                  (double)(step->stitches - purls) * strand_mm);
}

static void enter_bind_off(struct ledger *ledger, const struct plan_step *step)
{
    const struct builder *builder = ledger->builder;
    const struct project *project = builder->project;
    double width_mm = step->on_needle * builder->piece->plain_gauge.stitch_width_mm;
    enum bind_off_kind kind = (enum bind_off_kind)project->bind_off.value;
    double mm = 0.0;

    if (kind == BIND_OFF_STANDARD)
        mm = yarn_edge_mm(width_mm, builder_value(builder, "bind_off_standard_widths"),
                          builder_value(builder, "bind_off_standard_extra_in") * MM_PER_IN);
    else if (kind == BIND_OFF_SEWN)
        mm = yarn_edge_mm(width_mm, builder_value(builder, "bind_off_sewn_widths"),
                          builder_value(builder, "bind_off_sewn_extra_in") * MM_PER_IN);
    else if (kind == BIND_OFF_CORD)
        mm = yarn_edge_mm(width_mm, builder_value(builder, "bind_off_cord_widths"), 0.0);
    enter(ledger, step->yarn, USE_BIND_OFF, mm);
}

static void enter_step(struct ledger *ledger, const struct plan_step *step)
{
    const struct plan_piece *piece = ledger->builder->piece;
    bool rows = step->kind == STEP_RIB || step->kind == STEP_PLAIN || step->kind == STEP_SHAPE;
    double loop_mm = rows ? piece->loop.yarn[step->yarn].plain_loop_mm : 0.0;

    if (step->kind == STEP_CAST_ON)
        enter_cast_on(ledger, step);
    if (step->kind == STEP_RIB)
        enter_rib(ledger, step);
    if (step->kind == STEP_PLAIN || step->kind == STEP_SHAPE)
        enter(ledger, step->yarn, USE_PLAIN, yarn_stitches_mm(step->stitches, loop_mm));
    if (step->kind == STEP_BIND_OFF)
        enter_bind_off(ledger, step);
    if (rows && !step->counted_otherwise) {
        enter(ledger, step->yarn, USE_SELVEDGE,
              yarn_stitches_mm(step->rows * piece->cast_on.selvedge_sts, loop_mm));
        enter(ledger, step->yarn, USE_STEEK,
              yarn_stitches_mm(step->rows * piece->cast_on.steek_sts, loop_mm));
    }
}

static void enter_seam(struct ledger *ledger)
{
    const struct builder *builder = ledger->builder;
    const struct given_length *seam = &builder->project->seam;

    if (rational_is_value(seam->in))
        enter(ledger, builder->main_yarn, USE_SEAM,
              yarn_edge_mm(rational_double(seam->in) * MM_PER_IN,
                           builder_value(builder, "seam_lengths"),
                           builder_value(builder, "seam_extra_in") * MM_PER_IN));
}

/* What she rips she knits with again. The plain swatch is taken to be in the yarn with most plain fabric. */
static void enter_swatch(struct ledger *ledger)
{
    struct builder *builder = ledger->builder;
    int nyarns = builder->piece->nyarns, plain = builder->main_yarn;
    double *mm = arena_alloc(builder->work->arena, (size_t)nyarns, sizeof *mm);

    for (int i = 0; i < nyarns; i++)
        if (ledger->use_mm[i][USE_PLAIN] > ledger->use_mm[plain][USE_PLAIN])
            plain = i;
    plan_swatch_add(builder, plain, mm);
    for (int i = 0; i < nyarns; i++) {
        builder->piece->yarns[i].swatch_m = mm[i] / MM_PER_M;
        if (builder->project->swatch_fate.value == SWATCH_KEEP)
            ledger->use_mm[i][USE_SWATCH] += mm[i]; /* before any step, once for all pieces */
    }
}

/* --- yarns that wait --------------------------------------------------------------------------- */

struct stretches {
    struct carry_stretch *list;
    int count, capacity;
};

static void add_stretch(struct builder *builder, struct stretches *all, struct carry_stretch one)
{
    struct carry_stretch *last = all->count > 0 ? &all->list[all->count - 1] : NULL;

    if (last && last->yarns == one.yarns && last->unknown == one.unknown &&
        !(last->row_height_mm < one.row_height_mm) && !(last->row_height_mm > one.row_height_mm)) {
        last->rows += one.rows;
        return;
    }
    if (all->count == all->capacity) {
        int more = all->capacity ? 2 * all->capacity : 64;

        all->list = arena_grow(builder->work->arena, all->list, (size_t)all->capacity, (size_t)more,
                               sizeof *all->list);
        all->capacity = more;
    }
    all->list[all->count++] = one;
}

static void add_band_stretches(struct builder *builder, struct stretches *all,
                               const struct plan_band *band)
{
    uint64_t *yarns = arena_alloc(builder->work->arena, (size_t)band->rows, sizeof *yarns);

    for (int row = 0; row < band->rows; row++)
        yarns[row] = yarns_of_row(band, row);
    for (int time = 0; time < band->upwards; time++)
        for (int row = 0; row < band->rows; row++)
            add_stretch(builder, all,
                        (struct carry_stretch){.rows = 1,
                                               .yarns = yarns[row],
                                               .row_height_mm =
                                                   builder->piece->gauge.row_height_mm});
}

/* A cast-on or bind-off uses its yarn without a row; waste yarn is none of hers. */
static bool uses_yarn(const struct builder *builder, const struct plan_step *step)
{
    if (step->kind == STEP_CAST_ON)
        return builder->piece->cast_on.kind != CAST_ON_PROVISIONAL;
    return step->rows > 0 || step->counted_otherwise || step->kind == STEP_BIND_OFF;
}

static void add_step_stretches(struct builder *builder, struct stretches *all,
                               const struct plan_step *step)
{
    const struct plan_piece *piece = builder->piece;
    struct carry_stretch one = {.rows = step->rows,
                                .yarns = (uint64_t)1 << step->yarn,
                                .row_height_mm = piece->plain_gauge.row_height_mm,
                                .unknown = step->counted_otherwise};

    if (step->yarn2 >= 0)
        one.yarns |= (uint64_t)1 << step->yarn2;
    if (step->kind == STEP_BAND)
        add_band_stretches(builder, all, &piece->bands[step->band]);
    else if (uses_yarn(builder, step))
        add_stretch(builder, all, one);
}

/* A wait or a cut belongs to the step in which the yarn is taken up again, the first start and
 * the last end to the first in which it is used. */
static void enter_waits_of_step(struct ledger *ledger, const struct stretches *all, double limit_mm,
                                double tail_mm)
{
    struct builder *builder = ledger->builder;

    for (int i = 0; i < builder->piece->nyarns; i++) {
        struct plan_yarn *yarn = &builder->piece->yarns[i];
        struct carry_tally before = yarn->carry;

        carry_tally_yarn(all->list, all->count, i, limit_mm,
                         builder_value(builder, "carry_row_ratio"), &yarn->carry);
        enter_in_step(ledger, i, USE_CARRIED, yarn->carry.carried_mm - before.carried_mm);
        enter_in_step(ledger, i, USE_TAILS,
                      (double)(yarn->carry.ends - before.ends) * tail_mm);
    }
}

static void enter_waits(struct ledger *ledger, double tail_mm)
{
    struct builder *builder = ledger->builder;
    const struct given_length *carry_up = &builder->project->carry_up;
    double limit_mm = MM_PER_IN * rational_double(carry_up->in);
    struct stretches all = {0};

    builder_rest_on(builder, carry_up->allowance);
    for (int i = 0; i < builder->piece->nsteps; i++) {
        ledger->step = i;
        add_step_stretches(builder, &all, &builder->piece->steps[i]);
        enter_waits_of_step(ledger, &all, limit_mm, tail_mm);
    }
    for (int i = 0; i < builder->piece->nyarns; i++) {
        const struct plan_yarn *yarn = &builder->piece->yarns[i];

        ledger->use_mm[i][USE_CARRIED] += yarn->carry.carried_mm;
        ledger->use_mm[i][USE_TAILS] += (double)yarn->carry.ends * tail_mm;
    }
}

/* --- sums and buying ------------------------------------------------------------------------------ */

static void describe_yarn(const struct builder *builder, int index)
{
    const struct yarn *in = &builder->project->yarns[index];
    struct plan_yarn *out = &builder->piece->yarns[index];
    const struct ball *ball = builder->try_at && rational_is_value(builder->try_at->ball.mass_g)
                                  ? &builder->try_at->ball
                                  : &in->ball;

    out->name = in->name;
    out->mark = in->mark.text ? in->mark.text : "";
    memcpy(out->rgb, in->rgb, sizeof out->rgb);
    out->shade_given = in->shade.text != NULL;
    out->over = in->duplicate_over.index;
    out->knitted = out->over < 0;
    out->has_ball = rational_is_value(ball->mass_g);
    out->grams = (double)NAN;
    out->each_grams = out->have_g = out->need_g = (double)NAN;
    if (out->has_ball) {
        out->ball_g = rational_double(ball->mass_g);
        out->band_m = rational_double(ball->length_m);
        out->ball_m = out->band_m * builder->piece->loop.ball_ratio;
    }
    /* A ball of the try's own is another yarn than the one in hand. */
    if (ball == &in->ball && rational_is_value(in->have.mass_g))
        out->have_m = rational_double(in->have.mass_g) * out->ball_m / out->ball_g;
    else if (ball == &in->ball && rational_is_value(in->have.length_m))
        out->have_m = rational_double(in->have.length_m);
}

static void set_grams(struct plan_yarn *yarn)
{
    double g_per_m = yarn->ball_g / yarn->ball_m;

    yarn->grams = yarn->length_m * g_per_m;
    yarn->each_grams = yarn->each_m * g_per_m;
    yarn->have_g = yarn->have_m * g_per_m;
    yarn->need_g = yarn->need_m * g_per_m;
}

/* Margin and weight; how many balls that is comes with the likely range. */
static void weigh_yarn(struct builder *builder, struct plan_yarn *yarn)
{
    double wanted_m;

    builder_rest_on(builder, builder->project->margin.allowance);
    yarn->margin = rational_double(builder->project->margin.ratio);
    wanted_m = yarn->length_m * (1.0 + yarn->margin);
    yarn->have_enough = yarn->used && yarn->have_m > 0.0 && yarn->have_m >= wanted_m;
    yarn->need_m = yarn->have_enough ? 0.0 : fmax(0.0, wanted_m - yarn->have_m);
    if (!yarn->has_ball)
        return;
    set_grams(yarn);
}

static void sum_yarn(struct builder *builder, int index, const double use_mm[USE_COUNT])
{
    struct plan_yarn *yarn = &builder->piece->yarns[index];
    int make = builder->project->make.value;

    yarn->stitches *= make;
    yarn->float_stitches *= make;
    yarn->catches *= make;
    yarn->spares *= make;
    yarn->duplicate_stitches *= make;
    yarn->duplicate_spots *= make;
    yarn->spots_m *= make;
    for (int use = 0; use < USE_COUNT; use++) {
        bool once = use == USE_SWATCH;

        yarn->use_m[use] = use_mm[use] * (once ? 1 : make) / MM_PER_M;
        yarn->each_use_m[use] = once ? 0.0 : use_mm[use] / MM_PER_M;
        yarn->length_m += yarn->use_m[use];
        yarn->each_m += yarn->each_use_m[use];
    }
    yarn->stitch_m = yarn->use_m[USE_STITCHES];
    yarn->float_m = yarn->use_m[USE_FLOATS];
    yarn->catch_m = yarn->use_m[USE_CATCHES];
    for (int use = USE_CATCHES + 1; use < USE_COUNT; use++)
        yarn->other_m += yarn->use_m[use];
    yarn->used = yarn->length_m > 0.0;
    weigh_yarn(builder, yarn);
}

static int step_of_band(const struct plan_piece *piece, int band)
{
    int step = 0;

    while (piece->steps[step].band != band)
        step++;
    return step;
}

void plan_yarns_set(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;
    double tail_mm = MM_PER_IN * builder_tail_in(builder);
    struct ledger ledger;

    piece->nyarns = project->nyarns;
    piece->yarns =
        arena_alloc(builder->work->arena, (size_t)project->nyarns, sizeof *piece->yarns);
    ledger = ledger_open(builder);
    piece->step_m = ledger.step_m;
    piece->step_use_m = (const double(*)[USE_COUNT])ledger.step_use_m;
    for (int i = 0; i < project->nyarns; i++)
        describe_yarn(builder, i);
    for (int i = 0; i < piece->nbands; i++) {
        ledger.step = step_of_band(piece, i);
        enter_band(&ledger, &piece->bands[i]);
        enter_edges_of_band(&ledger, &piece->bands[i]);
        ledger.step = piece->nsteps;
        for (int yarn = 0; yarn < project->nyarns; yarn++)
            enter_duplicates(&ledger, &piece->bands[i], yarn);
    }
    for (ledger.step = 0; ledger.step < piece->nsteps; ledger.step++)
        enter_step(&ledger, &piece->steps[ledger.step]);
    enter_seam(&ledger);
    enter_swatch(&ledger);
    enter_waits(&ledger, tail_mm);
    for (int i = 0; i < project->nyarns; i++)
        sum_yarn(builder, i, ledger.use_mm[i]);
}
