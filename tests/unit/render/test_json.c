/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The JSON of a plan made by hand: every number in it is written here, none is computed. It
 * is read back by a small reader of its own that refuses anything RFC 8259 refuses, so the
 * emitter is checked against the standard and not against itself.
 */
#include <CUnit/Basic.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "render/json/emit.h"
#include "render/render.h"

/* --- reading JSON ---------------------------------------------------------------------- */

static const char *skip_blank(const char *at)
{
    return at + strspn(at, " \t\r\n");
}

static const char *skip_value(const char *at);

/* Behind the closing quote; NULL where it is no string. */
static const char *skip_string(const char *at)
{
    if (*at++ != '"')
        return NULL;
    for (; *at != '"'; at++) {
        if ((unsigned char)*at < 0x20)
            return NULL; /* the end, or a raw control character */
        if (*at != '\\')
            continue;
        at++;
        if (*at == 'u') {
            if (strspn(at + 1, "0123456789abcdefABCDEF") < 4)
                return NULL;
            at += 4;
        } else if (!*at || !strchr("\"\\/bfnrt", *at)) {
            return NULL;
        }
    }
    return at + 1;
}

static const char *skip_digits(const char *at)
{
    size_t n = strspn(at, "0123456789");

    return n ? at + n : NULL;
}

static const char *skip_number(const char *at)
{
    at += *at == '-';
    if (*at == '0')
        at++;
    else if (!(at = skip_digits(at)))
        return NULL;
    if (*at == '.' && !(at = skip_digits(at + 1)))
        return NULL;
    if (*at == 'e' || *at == 'E') {
        at++;
        at += *at == '-' || *at == '+';
        at = skip_digits(at);
    }
    return at;
}

/* Members or items up to `closing`; NULL where the form is broken. */
static const char *skip_list(const char *at, char closing)
{
    at = skip_blank(at + 1);
    if (*at == closing)
        return at + 1;
    for (;;) {
        if (closing == '}') {
            at = skip_string(at);
            at = at ? skip_blank(at) : NULL;
            if (!at || *at++ != ':')
                return NULL;
        }
        at = skip_value(skip_blank(at));
        if (!at)
            return NULL;
        at = skip_blank(at);
        if (*at == closing)
            return at + 1;
        if (*at++ != ',')
            return NULL;
        at = skip_blank(at);
    }
}

static const char *skip_value(const char *at)
{
    static const char *const words[] = {"true", "false", "null"};

    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strncmp(at, words[i], strlen(words[i])) == 0)
            return at + strlen(words[i]);
    if (*at == '"')
        return skip_string(at);
    if (*at == '{' || *at == '[')
        return skip_list(at, *at == '{' ? '}' : ']');
    return skip_number(at);
}

static bool well_formed(const char *json)
{
    const char *end = skip_value(skip_blank(json));

    return end && *skip_blank(end) == '\0';
}

/* The value of one step of a path in the object or array at `at`. */
static const char *step_into(const char *at, const char *name, size_t length)
{
    bool object = *at == '{';
    long wanted = object ? 0 : strtol(name, NULL, 10);

    for (at = skip_blank(at + 1); *at && *at != '}' && *at != ']'; at = skip_blank(at)) {
        bool here = !object && wanted-- == 0;

        if (object) {
            const char *key = at + 1;

            at = skip_string(at);
            here = (size_t)(at - 1 - key) == length && strncmp(key, name, length) == 0;
            at = skip_blank(skip_blank(at) + 1);
        }
        if (here)
            return at;
        at = skip_blank(skip_value(at));
        at += *at == ',';
    }
    return NULL;
}

/* The value at "bands.0.colours.1.yarn"; NULL: no such member. */
static const char *find(const char *json, const char *path)
{
    const char *at = skip_blank(json);

    while (at && *path) {
        size_t length = strcspn(path, ".");

        at = *at == '{' || *at == '[' ? step_into(at, path, length) : NULL;
        path += length + (path[length] == '.');
    }
    return at;
}

/* Is the value at path written exactly so? The path is shown when it is not. */
static bool is(const char *json, const char *path, const char *expected)
{
    const char *at = find(json, path);
    const char *end = at ? skip_value(at) : NULL;
    size_t length = at ? (size_t)(end - at) : 0;

    if (at && strlen(expected) == length && strncmp(at, expected, length) == 0)
        return true;
    printf("\n    %s is %.*s, not %s\n", path, at ? (int)length : 7, at ? at : "missing", expected);
    return false;
}

#define UNKNOWN ((double)NAN)

/* --- a plan by hand --------------------------------------------------------------------- */

/* 83.64 stitches wanted, 84 = 7 x 12 worked: the numbers of a sock top; the rest invented, each
 * different from every other so that two that change places show. */
struct hand_made {
    struct plan_yarn yarns[3];
    struct catch_mark marks[3], edge_marks[1];
    struct catch_map map, edge_map;
    int64_t histogram[13];
    struct plan_colour colours[2];
    struct fit_remedy remedy;
    struct plan_band band;
    struct plan_step steps[3];
    struct plan_candidate candidate;
    struct plan_try tries[2];
    struct allowance row;
    const struct allowance *basis[1];
    struct diag notes[2];
    struct source source;
    struct plan plan;
};

static void make_yarns(struct hand_made *hand)
{
    hand->yarns[0] = (struct plan_yarn){
        .name = "Cream",
        .mark = ".",
        .rgb = {0xf3, 0xea, 0xd7},
        .shade_given = true,
        .used = true,
        .knitted = true,
        .over = -1,
        .stitches = 1414,
        .float_stitches = 770,
        .catches = 14,
        .spares = 2,
        .stitch_m = 11.25,
        .float_m = 2.689,
        .catch_m = 0.044,
        .other_m = 31.5,
        .length_m = 45.483,
        .has_ball = true,
        .ball_g = 50,
        .ball_m = 210,
        .grams = 10.8292857142857,
        .margin = 0.15,
        .margin_balls = 3,
        .need_m = 452.3,
        .buy = {.balls = 4, .need_m = 452.3, .left_m = 177.7, .last_used = 0.153},
        .close_call = CALL_HARDLY_TOUCHED,
        .carry = {.waits = 2,
                  .carried_rows = 5,
                  .carried_mm = 16.4,
                  .longest_wait_rows = 3,
                  .cuts = 1,
                  .ends = 4}};
    hand->yarns[0].use_m[USE_STITCHES] = 11.25;
    hand->yarns[0].use_m[USE_RIB] = 6.75;
    hand->yarns[1] = (struct plan_yarn){.name = "sl\"ate",
                                        .mark = "#",
                                        .used = true,
                                        .knitted = true,
                                        .over = -1,
                                        .stitches = 938,
                                        .float_stitches = 1078,
                                        .catches = 42,
                                        .length_m = 12.5,
                                        .grams = UNKNOWN};
    hand->yarns[2] = (struct plan_yarn){.name = "berry",
                                        .mark = "",
                                        .used = true,
                                        .over = 0,
                                        .duplicate_stitches = 21,
                                        .duplicate_spots = 6,
                                        .length_m = 1.85,
                                        .grams = UNKNOWN};
}

static void make_band(struct hand_made *hand)
{
    hand->marks[0] = (struct catch_mark){.row = 2, .column = 7, .strand = 1, .behind = 0};
    hand->marks[1] = (struct catch_mark){.row = 8, .column = 0, .strand = 0, .behind = 1};
    hand->marks[2] = (struct catch_mark){.row = 13, .column = 11, .strand = 1, .behind = 0};
    hand->map = (struct catch_map){
        .mark = hand->marks, .count = 3, .stacked = 5, .doubled = 6, .touching = 9};
    hand->edge_marks[0] = (struct catch_mark){.row = 4, .column = 88, .strand = 0, .behind = 1};
    hand->edge_map = (struct catch_map){.mark = hand->edge_marks, .count = 1};
    hand->histogram[3] = 17;
    hand->histogram[9] = 2;
    hand->histogram[12] = 4;
    hand->colours[0] = (struct plan_colour){.yarn = 0,
                                            .tally = {.stitches = 101,
                                                      .float_stitches = 55,
                                                      .floats = 23,
                                                      .over_limit = 1,
                                                      .catches_fewest = 10,
                                                      .longest_sts = 9,
                                                      .longest_row = 8,
                                                      .start_longest_sts = 6},
                                            .longest_in = 1.125,
                                            .catches = 12,
                                            .spares = 2,
                                            .piece_stitches = 707,
                                            .piece_float_stitches = 385,
                                            .piece_catches = 84,
                                            .piece_spares = 14,
                                            .piece_longest_sts = 15,
                                            .histogram = hand->histogram,
                                            .histogram_limit = 12};
    hand->colours[1] = (struct plan_colour){.yarn = 1, .tally = {.longest_row = -1}};
    hand->remedy = (struct fit_remedy){.kind = FIT_SHAPE,
                                       .stitches = 96,
                                       .repeats = 8,
                                       .increase = 13,
                                       .decrease = 11,
                                       .before_is_decrease = true,
                                       .plain_columns = 2,
                                       .left_over = 4,
                                       .finished_in = 12.0625,
                                       .off_in = -0.375,
                                       .gauge_per_in = 8.1875,
                                       .line = "Do this."};
    hand->band = (struct plan_band){.name = "Ripple",
                                    .chart_name = "ripple.chart",
                                    .repeat_sts = 12,
                                    .rows = 14,
                                    .upwards = 2,
                                    .repeats = 7,
                                    .stitches = 84,
                                    .side_sts = 3,
                                    .stitches_on_needle = 91,
                                    .has_target = true,
                                    .target_sts = {2091, 25},
                                    .measure_in = 10.25,
                                    .wanted_in = 10.455,
                                    .finished_in = 10.5,
                                    .ease_ratio = 0.0243902439,
                                    .height_in = 1.47,
                                    .first_round = 14,
                                    .leave_sts = 8,
                                    .remedies = &hand->remedy,
                                    .nremedies = 1,
                                    .colours = hand->colours,
                                    .ncolours = 2,
                                    .catches = &hand->map,
                                    .outer = &hand->edge_map,
                                    .rows_three_colours = 1,
                                    .over_limit = 16,
                                    .longest_sts = 10,
                                    .longest_in = 1.25,
                                    .catches_repeat = 18,
                                    .catches_fewest_repeat = 19,
                                    .catches_piece = 126,
                                    .has_cliff_above = true,
                                    .above = {.per_in = 9.1, .leave_sts = 20, .catches = 22}};
}

static void make_steps(struct hand_made *hand)
{
    hand->steps[0] = (struct plan_step){.kind = STEP_CAST_ON,
                                        .name = "",
                                        .band = -1,
                                        .yarn = 0,
                                        .yarn2 = -1,
                                        .from_sts = 72,
                                        .to_sts = 72,
                                        .on_needle = 74,
                                        .length_in = 36.5};
    hand->steps[1] =
        (struct plan_step){.kind = STEP_SHAPE,
                           .name = "",
                           .band = -1,
                           .yarn = 1,
                           .yarn2 = 0,
                           .from_sts = 72,
                           .to_sts = 84,
                           .on_needle = 86,
                           .rows = 1,
                           .first_row = 13,
                           .height_in = 0.105,
                           .stitches = 84,
                           .shaping = {72, 84, 1, "k3, m1, (k6, m1) 11 times, k3", "72 + 12 = 84"}};
    hand->steps[2] = (struct plan_step){.kind = STEP_BAND,
                                        .name = "Ripple",
                                        .yarn = 0,
                                        .yarn2 = -1,
                                        .from_sts = 84,
                                        .to_sts = 84,
                                        .on_needle = 86,
                                        .rows = 28,
                                        .first_row = 14};
    hand->candidate = (struct plan_candidate){.stitches = 80,
                                              .finished_in = 10.125,
                                              .ease_ratio = -0.0122,
                                              .fits_bands = 1,
                                              .fits_rib = true};
}

static void make_piece(struct hand_made *hand)
{
    struct plan_piece *piece = &hand->plan.piece;

    piece->gauge = (struct plan_gauge){
        .measured = true,
        .gauge = {.stitches = {{31, 4}, 3, 0.0235, 0.031}, .rows = {{19, 2}, 1, 0, UNKNOWN}},
        .per_in = 7.97916666666667,
        .rows_per_in = 9.5416666666667,
        .stitch_width_mm = 3.183,
        .row_height_mm = 2.662,
        .round = true,
        .washed = true,
        .needle_mm = 2.75,
        .needle_us = "2",
        .weight_name = "fingering"};
    piece->plain_gauge = piece->gauge;
    piece->plain_gauge.measured = false;
    piece->plain_gauge.needle_mm = 0;
    piece->plain_gauge.needle_us = piece->plain_gauge.weight_name = NULL;
    piece->loop = (struct plan_loop){.method = LOOP_FROM_TWO_YARNS,
                                     .loop_mm = 12.22,
                                     .plain_loop_mm = 12.9,
                                     .slack_ratio = 1.104,
                                     .slack_origin = SLACK_MEASURED,
                                     .error_part = 0.05,
                                     .density_mm = 13.51,
                                     .width_mm = 13.05,
                                     .thickness_mm = UNKNOWN,
                                     .spread_part = 0.09};
    piece->limit_in = 1.0625;
    piece->cast_on = (struct plan_cast_on){.stitches = 74,
                                           .body_sts = 83,
                                           .selvedge_sts = 2,
                                           .steek_sts = 7,
                                           .kind = CAST_ON_PROVISIONAL,
                                           .yarn = 0,
                                           .has_rib = true,
                                           .rib_knit = 3,
                                           .rib_purl = 2,
                                           .rib_rounds = 12,
                                           .rib_sts = 72,
                                           .width_in = 9.27};
    piece->steps = hand->steps;
    piece->nsteps = 3;
    piece->bands = &hand->band;
    piece->nbands = 1;
    piece->yarns = hand->yarns;
    piece->nyarns = 3;
    piece->bands_height_in = 2.94;
    piece->catches = 127;
    piece->catches_fewest = 70;
    piece->longest_sts = 10;
    piece->longest_in = 1.2532;
    piece->over_limit = 224;
    piece->too_long = true;
    piece->finished_low_in = 10.2;
    piece->finished_high_in = 10.8;
}

static void make_rest(struct hand_made *hand)
{
    static const char why[] = "The chart is wider than the piece.";

    hand->source.name = "cuff.ini";
    hand->row = (struct allowance){.key = "slack_default",
                                   .value = 1.1,
                                   .low = 1.05,
                                   .high = UNKNOWN,
                                   .unit = "ratio",
                                   .standing = "common practice",
                                   .source = "none",
                                   .what = "Slack of a float."};
    hand->basis[0] = &hand->row;
    hand->notes[0] = (struct diag){.code = DIAG_GAUGE_UNWASHED,
                                   .at = {&hand->source, 12, 9, 2},
                                   .what = "It is \"unwashed\".\n"};
    hand->notes[1] = (struct diag){.code = DIAG_STACK_LEFT, .what = "No room.", .todo = "Look."};
    hand->tries[0] = (struct plan_try){.name = "Thicker", .fits = true, .piece = hand->plan.piece};
    hand->tries[0].piece.gauge.per_in = 5.5;
    hand->tries[0].piece.too_long = false;
    hand->tries[1] = (struct plan_try){.name = "rope", .why = why};
}

static const struct plan *make_plan(struct hand_made *hand)
{
    memset(hand, 0, sizeof *hand);
    hand->plan = (struct plan){.title = "Tide-line \u2014 tops",
                               .project_name = "cuff.ini",
                               .make = 2,
                               .round = true,
                               .child = true,
                               .height_wanted_in = 1.5,
                               .edges = EDGE_TURN,
                               .bind_off = BIND_OFF_SEWN,
                               .bind_off_yarn = 1,
                               .tail_in = 6.25,
                               .carry_up_in = 1.75,
                               .stagger_cols = 3,
                               .clear_ends = 2,
                               .spare_catches = true,
                               .candidates = &hand->candidate,
                               .ncandidates = 1,
                               .tries = hand->tries,
                               .ntries = 2,
                               .basis = hand->basis,
                               .nbasis = 1,
                               .notes = hand->notes,
                               .nnotes = 2};
    make_yarns(hand);
    make_band(hand);
    make_steps(hand);
    make_piece(hand);
    make_rest(hand);
    return &hand->plan;
}

/* Its JSON, which must be JSON at all. */
static const char *render(struct arena *arena, const struct plan *plan)
{
    struct text out = text_create(arena);

    render_json(plan, &out);
    CU_ASSERT_FATAL(well_formed(out.bytes));
    return out.bytes;
}

static void expect_all(const char *json, const char *const (*pairs)[2])
{
    for (int i = 0; pairs[i][0]; i++)
        CU_ASSERT(is(json, pairs[i][0], pairs[i][1]));
}

/* --- tests -------------------------------------------------------------------------------- */

/* The names that are promised, each with the value put in above. Rational 2091/25 is 83.64. */
static void fixed_names(void)
{
    static const char *const expected[][2] = {{"gauge.stitches_per_inch", "7.97916667"},
                                              {"gauge.rows_per_inch", "9.54166667"},
                                              {"cast_on.stitches", "74"},
                                              {"bands.0.name", "\"Ripple\""},
                                              {"bands.0.repeat_stitches", "12"},
                                              {"bands.0.rows", "14"},
                                              {"bands.0.upwards", "2"},
                                              {"bands.0.repeats", "7"},
                                              {"bands.0.stitches", "84"},
                                              {"bands.0.stitches_on_needle", "91"},
                                              {"bands.0.leave_stitches", "8"},
                                              {"bands.0.fit.target_stitches", "83.64"},
                                              {"bands.0.fit.remedies.0.kind", "\"shape\""},
                                              {"bands.0.fit.remedies.0.stitches", "96"},
                                              {"bands.0.fit.remedies.0.increase", "13"},
                                              {"bands.0.fit.remedies.0.decrease", "11"},
                                              {"bands.0.fit.remedies.0.line", "\"Do this.\""},
                                              {"bands.0.colours.0.yarn", "\"Cream\""},
                                              {"bands.0.colours.0.stitches", "101"},
                                              {"bands.0.colours.0.float_stitches", "55"},
                                              {"bands.0.colours.0.floats", "23"},
                                              {"bands.0.colours.0.longest_stitches", "9"},
                                              {"bands.0.colours.0.longest_inches", "1.125"},
                                              {"bands.0.colours.0.over_limit", "1"},
                                              {"bands.0.colours.0.catches_fewest", "10"},
                                              {"bands.0.colours.0.catches", "12"},
                                              {"bands.0.stacked", "5"},
                                              {"bands.0.doubled", "6"},
                                              {"bands.0.touching", "9"},
                                              {"yarn.0.yarn", "\"Cream\""},
                                              {"yarn.0.stitches", "1414"},
                                              {"yarn.0.stitch_m", "11.25"},
                                              {"yarn.0.float_m", "2.689"},
                                              {"yarn.0.catch_m", "0.044"},
                                              {"yarn.0.other_m", "31.5"},
                                              {"yarn.0.length_m", "45.483"},
                                              {"yarn.0.grams", "10.8292857"},
                                              {"yarn.0.balls", "3"},
                                              {"yarn.0.catches", "14"},
                                              {"tries.0.name", "\"Thicker\""},
                                              {"tries.0.stitches_per_inch", "5.5"},
                                              {"tries.0.repeats", "7"},
                                              {"tries.0.longest_inches", "1.2532"},
                                              {"tries.0.catches", "127"},
                                              {"tries.0.too_long", "false"},
                                              {NULL, NULL}};
    struct hand_made hand;
    struct arena *arena = arena_create((size_t)1 << 24);

    expect_all(render(arena, make_plan(&hand)), expected);
    arena_destroy(arena);
}

/* Rows and columns count from 0 in the plan and from 1 here. */
static void rows_and_columns_from_one(void)
{
    static const char *const expected[][2] = {
        {"bands.0.catches.0",
         "{\"row\": 3, \"column\": 8, \"strand\": \"sl\\\"ate\", \"behind\": \"Cream\"}"},
        {"bands.0.catches.1.row", "9"},
        {"bands.0.catches.1.column", "1"},
        {"bands.0.catches.1.strand", "\"Cream\""},
        {"bands.0.catches.1.behind", "\"sl\\\"ate\""},
        {"bands.0.catches.2.row", "14"},
        {"bands.0.edge_catches.0.row", "5"},
        {"bands.0.edge_catches.0.column", "89"},
        {"bands.0.colours.0.longest_row", "9"},
        {"bands.0.colours.1.longest_row", "null"},
        {NULL, NULL}};
    struct hand_made hand;
    struct arena *arena = arena_create((size_t)1 << 24);
    const char *json = render(arena, make_plan(&hand));

    expect_all(json, expected);
    CU_ASSERT_PTR_NULL(find(json, "bands.0.catches.3"));
    CU_ASSERT_PTR_NULL(find(json, "bands.0.edge_catches.1"));
    arena_destroy(arena);
}

/* What is not known is null, never 0 and never left out. */
static void unknown_is_null(void)
{
    static const char *const expected[][2] = {{"yarn.1.grams", "null"},
                                              {"yarn.1.balls", "null"},
                                              {"yarn.1.buy", "null"},
                                              {"yarn.1.shade", "null"},
                                              {"yarn.2.mark", "null"},
                                              {"yarn.0.sewn_over", "null"},
                                              {"gauge.rows.likely_within_part", "null"},
                                              {"plain_gauge.needle_mm", "null"},
                                              {"plain_gauge.needle_us", "null"},
                                              {"plain_gauge.yarn_weight", "null"},
                                              {"yarn_in_a_stitch.by_thickness_mm", "null"},
                                              {"bands.0.fit.target_stitches", "null"},
                                              {"bands.0.fit.measure_inches", "null"},
                                              {"bands.0.fit.ease_part", "null"},
                                              {"bands.0.cliffs.below", "null"},
                                              {"steps.0.purl_yarn", "null"},
                                              {"steps.0.shaping", "null"},
                                              {"steps.0.first_row", "null"},
                                              {"steps.1.tail_inches", "null"},
                                              {"steps.2.yarn", "null"},
                                              {"cast_on.rib", "null"},
                                              {"tries.0.why_not", "null"},
                                              {"tries.1.repeats", "null"},
                                              {"tries.1.longest_inches", "null"},
                                              {"tries.1.catches", "null"},
                                              {"tries.1.too_long", "null"},
                                              {"tries.1.bands", "[]"},
                                              {"notes.0.todo", "null"},
                                              {"notes.1.file", "null"},
                                              {"notes.1.line", "null"},
                                              {"basis.0.high", "null"},
                                              {NULL, NULL}};
    struct hand_made hand;
    struct arena *arena = arena_create((size_t)1 << 24);
    const struct plan *plan = make_plan(&hand);

    hand.band.has_target = false;
    hand.plan.piece.cast_on.has_rib = false;
    expect_all(render(arena, plan), expected);
    arena_destroy(arena);
}

/* The rest of the plan, one member of every kind that could be taken from the wrong place. */
static void rest_of_the_plan(void)
{
    static const char *const expected[][2] = {
        {"title", "\"Tide-line \u2014 tops\""},
        {"make", "2"},
        {"worked", "\"round\""},
        {"units", "\"in\""},
        {"child", "true"},
        {"gauge.stitches",
         "{\"places\": 3, \"spread_part\": 0.0235, \"likely_within_part\": 0.031}"},
        {"plain_gauge.measured", "false"},
        {"yarn_in_a_stitch.method", "\"stranded row unravelled\""},
        {"yarn_in_a_stitch.slack_from", "\"measured\""},
        {"float_limit.rule", "\"leave up to\""},
        {"float_limit.edges", "\"turn\""},
        {"cast_on.kind", "\"provisional\""},
        {"cast_on.body_stitches", "83"},
        {"cast_on.selvedge_stitches", "2"},
        {"cast_on.steek_stitches", "7"},
        {"cast_on.rib", "{\"knit\": 3, \"purl\": 2, \"rows\": 12, \"stitches\": 72}"},
        {"cast_on.candidates.0.ease_part", "-0.0122"},
        {"cast_on.candidates.0.fits_bands", "[\"Ripple\"]"},
        {"cast_on.candidates.0.chosen", "false"},
        {"bind_off.kind", "\"sewn\""},
        {"bind_off.yarn", "\"sl\\\"ate\""},
        {"steps.0.kind", "\"cast on\""},
        {"steps.0.tail_inches", "36.5"},
        {"steps.1.shaping.line", "\"k3, m1, (k6, m1) 11 times, k3\""},
        {"steps.1.shaping.sum", "\"72 + 12 = 84\""},
        {"steps.1.yarn", "\"sl\\\"ate\""},
        {"steps.1.purl_yarn", "\"Cream\""},
        {"bands.0.fit.remedies.0.off_inches", "-0.375"},
        {"bands.0.fit.remedies.0.decrease_first", "true"},
        {"bands.0.cliffs.above.catches_fewest", "22"},
        {"bands.0.colours.0.piece.longest_stitches", "15"},
        {"bands.0.colours.0.histogram.1", "{\"stitches\": 9, \"floats\": 2}"},
        {"bands.0.colours.0.histogram.2", "{\"stitches\": 12, \"floats\": 4}"},
        {"bands.0.colours.0.histogram_top_stitches", "12"},
        {"yarn.0.shade", "\"#f3ead7\""},
        {"yarn.0.parts.rib_m", "6.75"},
        {"yarn.0.buy.left_m", "177.7"},
        {"yarn.0.buy.balls_to_buy", "4"},
        {"yarn.0.buy.close_call", "\"last ball hardly touched\""},
        {"yarn.0.carry.ends", "4"},
        {"yarn.2.sewn_over", "\"Cream\""},
        {"yarn.2.duplicate_stitches", "21"},
        {"piece.catches", "127"},
        {"piece.too_long", "true"},
        {"tries.1.fits", "false"},
        {"tries.1.why_not", "\"The chart is wider than the piece.\""},
        {"tries.0.yarn.0.balls", "3"},
        {"tries.0.bands.0.catches_piece", "126"},
        {"notes.0.code", "\"gauge-unwashed\""},
        {"notes.0.severity", "\"caution\""},
        {"notes.0.text", "\"It is \\\"unwashed\\\".\\n\""},
        {"notes.0.line", "12"},
        {"notes.0.column", "9"},
        {"notes.1.severity", "\"note\""},
        {"basis.0.standing", "\"common practice\""},
        {NULL, NULL}};
    struct hand_made hand;
    struct arena *arena = arena_create((size_t)1 << 24);

    expect_all(render(arena, make_plan(&hand)), expected);
    arena_destroy(arena);
}

/* Every choice by its word; the words are those the project file takes, where it has them. */
static void every_choice(void)
{
    static const char *const methods[] = {"\"stranded row unravelled\"", "\"plain row unravelled\"",
                                          "\"marked length\"", "\"swatch weighed\"",
                                          "\"ball weighed\"", "\"several measurements\"",
                                          "\"gauge\""};
    static const char *const slacks[] = {"\"project\"", "\"measured\"", "\"table\""};
    static const char *const cast_ons[] = {"\"long tail\"", "\"other\"", "\"provisional\""};
    static const char *const bind_offs[] = {"\"standard\"", "\"sewn\"", "\"cord\"", "\"none\""};
    static const char *const calls[] = {"null", "\"last ball nearly used up\"",
                                        "\"last ball hardly touched\""};
    static const char *const kinds[] = {"\"another count\"", "\"shape\"", "\"plain columns\"",
                                        "\"trim or pad\"",   "\"part repeats\"",
                                        "\"another gauge\"", "\"redraw\""};
    static const char *const steps[] = {"\"cast on\"", "\"rib\"",  "\"shape\"",
                                        "\"plain\"",   "\"band\"", "\"bind off\""};
    struct hand_made hand;
    struct arena *arena = arena_create((size_t)1 << 24);
    const struct plan *plan = make_plan(&hand);

    for (int i = 0; i < 7; i++) {
        const char *json;

        hand.plan.piece.loop.method = (enum loop_method)i;
        hand.plan.piece.loop.slack_origin = (enum slack_origin)(i % 3);
        hand.plan.piece.cast_on.kind = (enum cast_on_kind)(i % 3);
        hand.plan.bind_off = (enum bind_off_kind)(i % 4);
        hand.yarns[0].close_call = (enum close_call)(i % 3);
        hand.remedy.kind = (enum fit_kind)i;
        hand.steps[0].kind = (enum step_kind)(i % 6);
        hand.plan.piece.limit_catch_at = i % 2 == 1;
        hand.plan.round = hand.plan.piece.gauge.washed = i % 2 == 0;
        hand.plan.cm_first = i % 2 == 1;
        json = render(arena, plan);
        CU_ASSERT(is(json, "yarn_in_a_stitch.method", methods[i]));
        CU_ASSERT(is(json, "yarn_in_a_stitch.slack_from", slacks[i % 3]));
        CU_ASSERT(is(json, "cast_on.kind", cast_ons[i % 3]));
        CU_ASSERT(is(json, "bind_off.kind", bind_offs[i % 4]));
        CU_ASSERT(is(json, "yarn.0.buy.close_call", calls[i % 3]));
        CU_ASSERT(is(json, "bands.0.fit.remedies.0.kind", kinds[i]));
        CU_ASSERT(is(json, "steps.0.kind", steps[i % 6]));
        CU_ASSERT(is(json, "float_limit.rule", i % 2 ? "\"catch at\"" : "\"leave up to\""));
        CU_ASSERT(is(json, "worked", i % 2 ? "\"flat\"" : "\"round\""));
        CU_ASSERT(is(json, "gauge.washed", i % 2 ? "false" : "true"));
        CU_ASSERT(is(json, "units", i % 2 ? "\"cm\"" : "\"in\""));
    }
    arena_destroy(arena);
}

/* The fast digits and the one number formatter agree to the byte. */
static void digits_agree(void)
{
    static const int64_t values[] = {0,         7,          10,         2385,       -3,
                                     999999999, -999999999, 1000000000, 1234567891, -98765432123,
                                     INT64_MAX, INT64_MIN};
    struct arena *arena = arena_create((size_t)1 << 20);

    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        struct text fast = text_create(arena), slow = text_create(arena);

        text_digits(&fast, values[i]);
        text_json_number(&slow, (double)values[i]);
        CU_ASSERT_STRING_EQUAL(fast.bytes, slow.bytes);
    }
    arena_destroy(arena);
}

static void layout(void)
{
    struct arena *arena = arena_create((size_t)1 << 20);
    struct text out = text_create(arena);
    struct json json = json_begin(&out, NULL);

    json_object_open(&json, NULL);
    json_array_open(&json, "a");
    json_line_open(&json, NULL);
    json_whole(&json, "x", 4);
    json_array_open(&json, "y");
    json_bool(&json, NULL, true);
    json_null(&json, NULL);
    json_array_close(&json);
    json_object_close(&json);
    json_line_open(&json, NULL);
    json_object_close(&json);
    json_array_close(&json);
    json_array_open(&json, "b");
    json_array_close(&json);
    json_object_close(&json);
    json_end(&json);
    CU_ASSERT_STRING_EQUAL(out.bytes, "{\n"
                                      "  \"a\": [\n"
                                      "    {\"x\": 4, \"y\": [true, null]},\n"
                                      "    {}\n"
                                      "  ],\n"
                                      "  \"b\": []\n"
                                      "}\n");
    arena_destroy(arena);
}

/* The reader above must be able to say no, or nothing here means anything. Forms from RFC 8259. */
static void reader_refuses(void)
{
    static const char *const broken[] = {
        "{\"a\": 1,}", "[1 2]",   "{\"a\" 1}", "[01]",     "[1.]", "[nan]", "\"\n\"", "[1] 2",
        "{a: 1}",      "\"\\x\"", "[1e]",      "[\"open]", "[+1]", "",      "[1,,2]"};

    for (size_t i = 0; i < sizeof broken / sizeof *broken; i++)
        CU_ASSERT_FALSE(well_formed(broken[i]));
    CU_ASSERT(well_formed(" {\"a\": [1, -2.5e-3, \"\\u00e9\\n\", null, {}, []]} "));
    CU_ASSERT_PTR_NULL(find("{\"ab\": {\"c\": 3}}", "a.c"));
    CU_ASSERT_STRING_EQUAL(find("{\"ab\": {\"d\": [5, 6]}}", "ab.d.1"), "6]}}");
}

/* Twice the catches take twice the bytes and no memory but the text's own: linear. */
static void large_map_is_linear(void)
{
    enum { MARKS = 100000 };
    struct hand_made hand;
    struct arena *arena = arena_create((size_t)1 << 30);
    const struct plan *plan = make_plan(&hand);
    struct catch_mark *marks = arena_alloc(arena, 2 * MARKS + 1, sizeof *marks);
    size_t length[3], used;

    for (int i = 0; i < 2 * MARKS + 1; i++)
        marks[i] = (struct catch_mark){.row = 4321, .column = 1234, .strand = 1};
    hand.map.mark = marks;
    for (int i = 0; i < 3; i++) {
        hand.map.count = i * MARKS + 1;
        used = arena_used_bytes(arena);
        length[i] = strlen(render(arena, plan));
        used = arena_used_bytes(arena) - used;
        CU_ASSERT(used < 2 * length[i] + 65536);
    }
    CU_ASSERT_EQUAL(length[2] - length[1], length[1] - length[0]);
    arena_destroy(arena);
}

CU_TestInfo tests_json[] = {{"the reader of these tests refuses what is no JSON", reader_refuses},
                            {"indent, one line an item, empty lists", layout},
                            {"fast digits are the same digits", digits_agree},
                            {"every fixed name holds its value", fixed_names},
                            {"rows and columns count from 1", rows_and_columns_from_one},
                            {"what is not known is null", unknown_is_null},
                            {"the rest of the plan is there", rest_of_the_plan},
                            {"every choice by its word", every_choice},
                            {"many catches: linear, no memory an item", large_map_is_linear},
                            CU_TEST_INFO_NULL};
