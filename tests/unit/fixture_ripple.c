/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "fixture_plan.h"

const char *const fixture_ripple_rows[] = {
    "............", ".....xxx....", "....xxxxx...", "...xx..xxx..", "...x....xxx.",
    ".........xx.", ".........xxx", "xx...o...xxx", "xxx.....xxxx", "xxxx...xxxxx",
    "xxxxxxxxxxxx", ".x.x.x.x.x.x", "x.x.x.x.x.x.", "............", NULL,
};

static const double YARD = 0.9144;

/* Floats of one repeat counted on squared paper, row by row, by length. */
static const int64_t cream_lengths[13] = {0, 13, 2, 4, 0, 2, 0, 1, 0, 1};
static const int64_t slate_lengths[13] = {0, 12, 1, 1, 2, 2, 0, 2, 0, 2, 1};

static void fill_band(struct work *work, struct plan *plan)
{
    static const struct fixture_catch catches[] = {
        {5, 1, FIXTURE_CREAM}, {8, 8, FIXTURE_SLATE}, {9, 10, FIXTURE_SLATE}, {13, 12, FIXTURE_SLATE}};
    static const struct fit_remedy remedies[] = {
        {.kind = FIT_ANOTHER_COUNT,
         .stitches = 72,
         .choice = "another count, 6 repeats",
         .brief = "72 stitches, 9 in (22.9 cm), 1 1/2 in (3.7 cm) smaller than wanted",
         .line = "Work 72 stitches, 6 repeats: 9 in (22.9 cm), 1 1/2 in (3.7 cm) smaller."},
        {.kind = FIT_ANOTHER_GAUGE,
         .stitches = 84,
         .choice = "another gauge, 7 repeats",
         .brief = "84 stitches, 10 1/2 in (26.6 cm), on a new swatch",
         .line = "Find a gauge of 8.03 stitches to the inch (0.4 % finer): then 84 stitches are "
                 "10 1/2 in (26.6 cm). Swatch again."}};
    static const struct fit_question question = {.far_ratio = 0.1};
    static const struct fit_case fit = {.question = &question};
    struct plan_band *band = plan->piece.bands;
    struct plan_colour *colours = arena_alloc(work->arena, 2, sizeof *colours);

    band->fit = &fit;
    band->catches = fixture_catches(work, catches, 4);
    band->has_target = true;
    band->target_sts = rational_make(8364, 100);
    band->measure_in = 10.25;
    band->wanted_in = 10.455;
    band->finished_in = 10.5;
    band->ease_ratio = 10.5 / 10.25 - 1.0;
    band->height_in = 14 / 9.5;
    band->first_round = 14;
    band->leave_sts = 8;
    band->remedies = remedies;
    band->nremedies = 2;
    band->colours = colours;
    band->ncolours = 2;
    colours[0] = (struct plan_colour){.yarn = FIXTURE_CREAM,
                                      .tally = {.stitches = 101, .float_stitches = 55, .floats = 23,
                                                .over_limit = 1, .catches_fewest = 1,
                                                .longest_sts = 9, .longest_row = 4,
                                                .start_longest_sts = 8},
                                      .longest_in = 1.125, .worked_longest_in = 1.125,
                                      .start_longest_in = 1.0, .catches = 1, .once_catches = 1,
                                      .piece_stitches = 707,
                                      .piece_float_stitches = 385, .piece_catches = 7,
                                      .piece_longest_sts = 9, .histogram = cream_lengths,
                                      .histogram_limit = 12, .lengths = cream_lengths,
                                      .lengths_limit = 12};
    colours[1] = (struct plan_colour){.yarn = FIXTURE_SLATE,
                                      .tally = {.stitches = 67, .float_stitches = 77, .floats = 23,
                                                .over_limit = 3, .catches_fewest = 3,
                                                .longest_sts = 10, .longest_row = 8,
                                                .start_longest_sts = 9},
                                      .longest_in = 1.25, .worked_longest_in = 1.25,
                                      .start_longest_in = 1.125, .catches = 3, .once_catches = 3,
                                      .piece_stitches = 469,
                                      .piece_float_stitches = 539, .piece_catches = 21,
                                      .piece_longest_sts = 10, .histogram = slate_lengths,
                                      .histogram_limit = 12, .lengths = slate_lengths,
                                      .lengths_limit = 12};
    band->over_limit = 4;
    band->longest_sts = 10;
    band->longest_in = 1.25;
    band->catches_repeat = band->catches_fewest_repeat = 4;
    band->catches_once = 4;
    band->catches_piece = 28;
    band->worked_over_limit = 28;
    band->worked_fewest = 28;
    band->worked_longest_sts = 10;
    band->lengths_fewest = 4;
    band->has_cliff_above = band->has_cliff_below = true;
    band->above = (struct plan_cliff){9.0, 9, 1};
    band->below = (struct plan_cliff){8.0, 7, 6};
}

static void fill_steps(struct plan_piece *piece)
{
    static struct plan_step steps[] = {
        {.kind = STEP_CAST_ON, .name = "", .band = -1, .yarn2 = -1, .on_needle = 72, .length_in = 39.6},
        {.kind = STEP_RIB, .name = "", .band = -1, .yarn2 = -1, .on_needle = 72, .rows = 12,
         .first_row = 1, .height_in = 1.2},
        {.kind = STEP_SHAPE, .name = "", .band = -1, .yarn2 = -1, .from_sts = 72, .to_sts = 84,
         .on_needle = 84, .rows = 1, .first_row = 13, .height_in = 0.1,
         .shaping = {72, 84, 1, "k3, m1, (k6, m1) 11 times, k3", "72 + 12 = 84"}},
        {.kind = STEP_BAND, .name = "ripple", .band = 0, .yarn2 = -1, .on_needle = 84, .rows = 14,
         .first_row = 14, .height_in = 14 / 9.5},
        {.kind = STEP_SHAPE, .name = "", .band = -1, .yarn2 = -1, .from_sts = 84, .to_sts = 72,
         .on_needle = 72, .rows = 1, .first_row = 28, .height_in = 0.1,
         .shaping = {84, 72, 1, "k3, k2tog, (k5, k2tog) 11 times, k2", "84 - 12 = 72"}},
        {.kind = STEP_PLAIN, .name = "leg", .band = -1, .yarn2 = -1, .on_needle = 72, .rows = 50,
         .first_row = 29, .height_in = 5.0},
        {.kind = STEP_PLAIN, .name = "heel and foot", .band = -1, .yarn2 = -1, .on_needle = 72,
         .stitches = 9895, .counted_otherwise = true},
        {.kind = STEP_BIND_OFF, .name = "", .band = -1, .yarn2 = -1, .on_needle = 72},
    };

    piece->steps = steps;
    piece->nsteps = (int)(sizeof steps / sizeof *steps);
    piece->cast_on = (struct plan_cast_on){.stitches = 72, .body_sts = 72, .kind = CAST_ON_LONG_TAIL,
                                           .has_rib = true, .rib_knit = 2, .rib_purl = 2,
                                           .rib_rounds = 12, .rib_sts = 72, .width_in = 9.6};
}

static void fill_yarn(struct plan_yarn *yarn, double length_yd, double need_yd, double ball_g,
                      double ball_yd, int balls)
{
    yarn->used = true;
    yarn->length_m = length_yd * YARD;
    yarn->margin = 0.10;
    yarn->has_ball = true;
    yarn->ball_g = ball_g;
    yarn->band_m = yarn->ball_m = ball_yd * YARD;
    yarn->grams = yarn->length_m * ball_g / yarn->ball_m;
    yarn->need_m = need_yd * YARD;
    yarn->need_g = need_yd / ball_yd * ball_g;
    yarn->buy = (struct ball_count){balls, need_yd * YARD, (balls * ball_yd - need_yd) * YARD,
                                    need_yd / ball_yd - (balls - 1)};
}

static void fill_yarns(struct plan_yarn *yarns)
{
    fill_yarn(&yarns[FIXTURE_CREAM], 321.6, 353.8, 50.0, 230.0, 2);
    fill_yarn(&yarns[FIXTURE_SLATE], 17.4, 19.1, 50.0, 230.0, 1);
    fill_yarn(&yarns[FIXTURE_CORAL], 4.9, 5.4, 25.0, 115.0, 1);
    yarns[FIXTURE_SLATE].leftover_may_do = true;
    yarns[FIXTURE_CREAM].use_m[USE_STITCHES] = 18.85 * YARD;
    yarns[FIXTURE_CREAM].use_m[USE_FLOATS] = 2.94 * YARD;
    yarns[FIXTURE_CREAM].use_m[USE_RIB] = 23.0 * YARD;
    yarns[FIXTURE_CREAM].use_m[USE_PLAIN] = 270.0 * YARD;
    yarns[FIXTURE_CREAM].use_m[USE_CAST_ON] = 4.1 * YARD;
    yarns[FIXTURE_CREAM].use_m[USE_TAILS] = 2.67 * YARD;
    yarns[FIXTURE_SLATE].use_m[USE_STITCHES] = 12.5 * YARD;
    yarns[FIXTURE_SLATE].use_m[USE_FLOATS] = 4.1 * YARD;
    yarns[FIXTURE_SLATE].use_m[USE_TAILS] = 0.7 * YARD;
    yarns[FIXTURE_CORAL].use_m[USE_DUPLICATE] = 4.9 * YARD;
    yarns[FIXTURE_CREAM].carry = (struct carry_tally){.ends = 2};
    yarns[FIXTURE_SLATE].carry = (struct carry_tally){
        .waits = 1, .carried_rows = 1, .longest_wait_rows = 1, .ends = 2};
    yarns[FIXTURE_CORAL].duplicate_stitches = yarns[FIXTURE_CORAL].duplicate_spots = 14;
}

static void fill_try(struct work *work, struct plan *plan)
{
    struct plan_try *tries = arena_alloc(work->arena, 1, sizeof *tries);
    struct plan_piece *piece = &tries[0].piece;
    struct plan_band *band = arena_alloc(work->arena, 1, sizeof *band);

    tries[0].name = "thicker";
    tries[0].fits = true;
    *piece = plan->piece;
    *band = plan->piece.bands[0];
    piece->bands = band;
    piece->gauge.per_in = 5.0;
    piece->gauge.rows_per_in = 6.5;
    band->repeats = 4;
    band->finished_in = 9.6;
    piece->longest_in = 2.0;
    piece->catches = 48;
    piece->too_long = true;
    plan->tries = tries;
    plan->ntries = 1;
}

static void fill_candidates(struct plan *plan)
{
    static struct plan_candidate candidates[] = {
        {72, 9.0, 9.0 / 10.25 - 1.0, 1, true, false},   {80, 10.0, 10.0 / 10.25 - 1.0, 0, true, false},
        {84, 10.5, 10.5 / 10.25 - 1.0, 1, true, true},  {88, 11.0, 11.0 / 10.25 - 1.0, 0, true, false},
        {96, 12.0, 12.0 / 10.25 - 1.0, 1, true, false},
    };

    plan->candidates = candidates;
    plan->ncandidates = (int)(sizeof candidates / sizeof *candidates);
}

struct plan *fixture_ripple(struct work *work)
{
    static const char *const keys[] = {"float_limit_in", "slack_default", "loop_ks_washed", "tail_in"};
    struct plan *plan = fixture_plan(work, fixture_ripple_rows, 7, true);
    struct plan_piece *piece = &plan->piece;

    plan->title = "Tide-line sock tops";
    plan->make = 2;
    plan->carry_up_in = 1.0;
    piece->plain_gauge = piece->gauge;
    piece->plain_gauge.per_in = 7.5;
    piece->plain_gauge.rows_per_in = 10.0;
    piece->limit_in = 1.0;
    piece->loop = (struct plan_loop){.method = LOOP_FROM_TWO_YARNS, .loop_mm = 12.2,
                                     .plain_loop_mm = 12.2, .slack_ratio = 1.10,
                                     .slack_origin = SLACK_MEASURED, .error_part = 0.04,
                                     .density_mm = 13.54, .width_mm = 13.02, .thickness_mm = 12.92,
                                     .spread_part = 0.047};
    fill_band(work, plan);
    fill_steps(piece);
    fill_yarns(piece->yarns);
    piece->bands_height_in = 14 / 9.5;
    piece->catches = piece->catches_fewest = 28;
    piece->longest_sts = 10;
    piece->longest_in = 1.25;
    piece->over_limit = 28;
    piece->too_long = true;
    piece->finished_low_in = 10.375;
    piece->finished_high_in = 10.625;
    fill_candidates(plan);
    fill_try(work, plan);
    plan->basis = arena_alloc(work->arena, 4, sizeof *plan->basis);
    for (int i = 0; work->tables && i < 4; i++)
        plan->basis[plan->nbasis++] = tables_allowance(work->tables, keys[i]);
    return plan;
}
