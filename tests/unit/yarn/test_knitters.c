/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Thousands of knitters from the swatch to the last ball: each has a hand of her own, counts,
 * unravels, marks or weighs with tape and scale, writes down what she read, has the whole plan made
 * of it, and knits. What her plan said is held against what she used.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "base/text.h"
#include "dice.h"
#include "fixture_project.h"
#include "read/chart/chart.h"
#include "true_yarn.h"

extern CU_TestInfo tests_knitters[];

enum { YARNS = 3, BINS = 5, KNITTERS = 5000, FEWER = 800 };

enum way { GAUGE_ONLY, ROW, ROW_AND_PLAIN, SEVERAL_ROWS, MARKED_AND_WEIGHED, BALL_WEIGHED, WAYS };

/* How alike her yarns and balls are. */
enum unlike { ALIKE, YARNS_UNLIKE, BALLS_UNLIKE };

/* Nine-in-ten limits of the table, written out again. */
static const double pull = 0.02, scatter = 0.02, ball_out = 0.04, slack_out = 0.1, drift_out = 0.03;
static const double catch_out = 0.5, edge_out = 0.15, rib_out = 0.05, law_out = 0.15;
static const double place_out = 0.02, swatch_out = 0.01;
static const double m_per_g = 1.3, inch_mm = 25.4;

struct knitter {
    enum way way;
    double per_in, rows_per_in;         /* true, as all below */
    double loop_mm[YARNS], plain_loop_mm, strand_mm; /* strand: behind one stitch */
    double pull, ball[YARNS];
    int ball_g[YARNS];
};

static double out_by(struct dice *dice, double nine_in_ten)
{
    return dice_error(dice, nine_in_ten / true_nine);
}

/* The law from the gauge is out, nine in ten, by 15 %; a measured stitch may be any. */
static struct knitter knitter_of(struct dice *dice, enum unlike unlike)
{
    struct knitter hers = {.way = (enum way)(dice_even(dice) * WAYS)};
    double law_mm, ball = out_by(dice, ball_out);

    hers.per_in = dice_between(dice, 4.8, 5.4);
    hers.rows_per_in = hers.per_in * dice_between(dice, 1.2, 1.4);
    law_mm = inch_mm * sqrt(21.6 / (hers.per_in * hers.rows_per_in));
    law_mm *= hers.way == GAUGE_ONLY ? 1 + out_by(dice, law_out) : dice_between(dice, 0.9, 1.1);
    hers.strand_mm = inch_mm / hers.per_in * (1.10 + out_by(dice, slack_out));
    hers.pull = out_by(dice, pull);
    for (int i = 0; i < YARNS; i++) {
        hers.loop_mm[i] = law_mm * (unlike == YARNS_UNLIKE ? 1 + out_by(dice, 0.03) : 1);
        hers.ball[i] = unlike == BALLS_UNLIKE ? out_by(dice, ball_out) : ball;
        hers.ball_g[i] = (int)dice_between(dice, 4, 24);
    }
    hers.plain_loop_mm =
        hers.loop_mm[0] * (hers.way == ROW_AND_PLAIN ? dice_between(dice, 0.95, 1.05) : 1);
    return hers;
}

/* --- what she reads and writes down -------------------------------------------------------- */

/* So much yarn freed, pulled straight her way, on a tape of eighths. */
static double taped_in(struct dice *dice, const struct knitter *hers, double mm)
{
    double seen_mm = mm * (1 + out_by(dice, scatter)) / (1 + hers->pull);

    return floor(seen_mm / inch_mm * 8 + 0.5) / 8;
}

static double row_in(struct dice *dice, const struct knitter *hers, int yarn, int stitches,
                     int floats)
{
    return taped_in(dice, hers, stitches * hers->loop_mm[yarn] + floats * hers->strand_mm);
}

static void write_row(struct dice *dice, const struct knitter *hers, struct text *text)
{
    double ground_in = row_in(dice, hers, 0, 28, 12);

    text_addf(text, "unravelled = 40 stitches: ground 28 took %.3f in, reed 12 took %.3f in\n",
              ground_in, row_in(dice, hers, 1, 12, 28));
}

static void write_several(struct dice *dice, const struct knitter *hers, struct text *text)
{
    static const char *const names[] = {"ground", "reed"};

    write_row(dice, hers, text);
    for (int i = 0; i < 4; i++)
        text_addf(text, "unravelled %d = 40 stitches of %s took %.3f in\n", i + 2, names[i % 2],
                  row_in(dice, hers, i % 2, 40, 0));
}

/* A yard marked, stitches counted up to the mark; 40 by 44 on a scale of 0.1 g, half in each. */
static void write_marked_and_weighed(struct dice *dice, const struct knitter *hers,
                                     struct text *text)
{
    double yard_mm = 36 * inch_mm * (1 + hers->pull) * (1 + out_by(dice, scatter));
    double half = 40 * 44 / 2.0, grams = 0;

    for (int i = 0; i < 2; i++)
        grams += half * (hers->loop_mm[i] + hers->strand_mm) / 1000 / m_per_g / (1 + hers->ball[i]);
    grams *= 1 + out_by(dice, swatch_out);
    text_addf(text, "marked = %.0f stitches took 36 in\nscale = 0.1 g\n",
              floor(yard_mm / hers->loop_mm[0] + 0.5));
    text_addf(text, "weight = %.1f g: 40 stitches, 44 rows\n", grams);
}

static void write_ball(const struct knitter *hers, struct text *text)
{
    double used_g = (950 * hers->loop_mm[1] + 650 * hers->strand_mm) / 1000 / m_per_g /
                    (1 + hers->ball[1]);

    text_addf(text, "scale = 0.1 g\nball weighed = reed 41.7 g to %.1f g: 1600 stitches, 950 in reed\n",
              41.7 - used_g);
}

static void write_counts(struct dice *dice, const char *key, double per_in, struct text *text)
{
    text_addf(text, "%s = ", key);
    for (int i = 0; i < 3; i++)
        text_addf(text, "%s%.2f", i ? ", " : "",
                  floor(4 * 4 * per_in * (1 + out_by(dice, place_out)) + 0.5) / 4);
    text_add(text, "\n");
}

static void write_swatch(struct dice *dice, const struct knitter *hers, struct text *text)
{
    text_add(text, "[project]\nmake = 2\n[swatch]\nworked = round\nwashed = yes\nover = 4 in\n");
    write_counts(dice, "stitches", hers->per_in, text);
    write_counts(dice, "rows", hers->rows_per_in, text);
    if (hers->way == ROW || hers->way == ROW_AND_PLAIN)
        write_row(dice, hers, text);
    if (hers->way == SEVERAL_ROWS)
        write_several(dice, hers, text);
    if (hers->way == MARKED_AND_WEIGHED)
        write_marked_and_weighed(dice, hers, text);
    if (hers->way == BALL_WEIGHED)
        write_ball(hers, text);
    if (hers->way == ROW_AND_PLAIN) {
        text_add(text, "[swatch plain]\nworked = round\nwashed = yes\nover = 4 in\n");
        write_counts(dice, "stitches", hers->per_in, text);
        write_counts(dice, "rows", hers->rows_per_in, text);
        text_addf(text, "unravelled = 40 stitches took %.3f in\n",
                  taped_in(dice, hers, 40 * hers->plain_loop_mm));
    }
}

/* A pair of legs: rib, two bands of two and three colours, a plain part knitted to a length, a toe
 * counted otherwise; some berry in hand. */
static const char *project_of(struct work *work, struct dice *dice, const struct knitter *hers)
{
    static const char *const names[YARNS] = {"ground", "reed", "berry"};
    struct text text = text_create(work->arena);

    write_swatch(dice, hers, &text);
    text_add(&text, "[cast-on]\nkind = long tail\nyarn = ground\nrib = knit 2 purl 2, 10 rounds\n"
                    "rib stitches = 72\n[band reeds]\nchart = reeds.chart\nrepeats = 9\n"
                    "[band lone]\nchart = choices.chart\nrepeats = 6\nupwards = 3\n"
                    "[plain leg]\nyarn = ground\nlength = 5 in\n"
                    "[plain toe]\nyarn = reed\nstitches = 2385\n[float]\nplacement = quick\n");
    for (int i = 0; i < YARNS; i++)
        text_addf(&text, "[yarn %s]\nmark = %c\nball = %d g, %.1f m\n", names[i], ".xo"[i],
                  hers->ball_g[i], hers->ball_g[i] * m_per_g);
    text_add(&text, "have = 7 g\n");
    return text.bytes;
}

static const struct plan *plan_of(struct work *work, const char *text)
{
    const struct source *source = source_from_text(work, "tests/projects/knitter.ini", text);
    const struct project *project = project_read_source(work, source);
    const struct chart *charts[8] = {NULL};

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    CU_ASSERT_FALSE_FATAL(diagnostics_fatal(work->diagnostics));
    return plan_build(work, project, charts);
}

/* --- what she used, and what was said -------------------------------------------------------- */

static struct true_yarn truth_of(struct dice *dice, const struct plan *plan,
                                 const struct knitter *hers, int yarn, double drift)
{
    const struct plan_loop *loop = &plan->piece.loop;
    const struct plan_gauge *gauge = &plan->piece.gauge;
    double plain_mm = hers->plain_loop_mm * hers->loop_mm[yarn] / hers->loop_mm[0];

    return (struct true_yarn){
        .loop = hers->loop_mm[yarn] / loop->yarn[yarn].loop_mm,
        .plain_loop = plain_mm / loop->yarn[yarn].plain_loop_mm,
        .strand = hers->strand_mm / (gauge->stitch_width_mm * loop->slack_ratio),
        .per_in = hers->per_in / gauge->per_in,
        .rows_per_in = hers->rows_per_in / plan->piece.plain_gauge.rows_per_in,
        .drift = drift,
        .catches = 1 + out_by(dice, catch_out),
        .edges = 1 + out_by(dice, edge_out),
        .rib = 1 + out_by(dice, rib_out)};
}

struct outcome {
    int knitters, refused, by_yarn, both_kinds, disagree;
    int yarns, in_range, of_way[WAYS], in_of[WAYS];
    int bin[BINS], came_true[BINS];
    double said[BINS];
    int sure_true;
    double sure_said;
};

static void count_yarn(struct outcome *all, enum way way, const struct plan *plan, int yarn,
                       double used_m, double ball)
{
    const struct plan_likely *likely = &plan->piece.yarns[yarn].likely;
    bool held = used_m >= likely->low_m && used_m <= likely->high_m;

    all->yarns++;
    all->in_range += held;
    all->of_way[way]++;
    all->in_of[way] += held;
    all->sure_said += likely->sure_chance;
    all->sure_true += true_balls_m(plan, yarn, likely->sure_balls, ball) >= used_m;
    for (int k = 0; k < likely->nenough; k++) {
        int bin = (int)fmin(likely->enough[k].chance * BINS, BINS - 1);

        all->bin[bin]++;
        all->said[bin] += likely->enough[k].chance;
        all->came_true[bin] += true_balls_m(plan, yarn, likely->enough[k].balls, ball) >= used_m;
    }
}

static void one_knitter(struct dice *dice, enum unlike unlike, const struct tables *tables,
                        struct outcome *all)
{
    struct knitter hers = knitter_of(dice, unlike);
    struct work work = fixture_work();
    double drift = 1 + dice_drift(dice, drift_out / true_nine);
    const struct plan *plan;

    work.tables = tables;
    plan = plan_of(&work, project_of(&work, dice, &hers));
    all->knitters++;
    all->refused += plan == NULL;
    all->by_yarn += plan && plan->piece.loop.by_yarn;
    all->both_kinds += hers.way == MARKED_AND_WEIGHED;
    for (int i = 0; plan && i < plan->nnotes; i++)
        all->disagree += plan->notes[i].code == DIAG_SWATCH_KINDS;
    for (int i = 0; i < YARNS && plan; i++) {
        struct true_yarn truth = truth_of(dice, plan, &hers, i, drift);

        count_yarn(all, hers.way, plan, i, true_worked_m(plan, i, &truth), 1 + hers.ball[i]);
    }
    fixture_end(&work);
}

static double furthest(const struct outcome *all)
{
    double off = 0;

    for (int i = 0; i < BINS; i++) {
        double points = 100 * (all->came_true[i] - all->said[i]) / all->bin[i];

        off = fabs(points) > fabs(off) ? points : off;
    }
    return off;
}

static struct outcome simulate(enum law law, enum unlike unlike, int knitters, const char *name)
{
    struct dice dice = {.state = 2385, .law = law};
    struct work work = fixture_work_with_tables();
    struct outcome all = {0};

    for (int i = 0; i < knitters; i++)
        one_knitter(&dice, unlike, work.tables, &all);
    fixture_end(&work);
    printf("\n    %s: %d plans, %d refused, %d by yarn; nine in ten held %.1f %% (", name,
           all.knitters, all.refused, all.by_yarn, 100.0 * all.in_range / all.yarns);
    for (int i = 0; i < WAYS; i++)
        printf("%s%.1f", i ? ", " : "", 100.0 * all.in_of[i] / all.of_way[i]);
    printf("); tape and scale said to disagree %d times of %d; to buy %.1f/%.1f;\n    said and came true:",
           all.disagree, all.both_kinds, 100 * all.sure_said / all.yarns,
           100.0 * all.sure_true / all.yarns);
    for (int i = 0; i < BINS; i++)
        printf(" %.1f/%.1f", 100 * all.said[i] / all.bin[i],
               100.0 * all.came_true[i] / all.bin[i]);
    return all;
}

static double held(const struct outcome *all)
{
    return 100.0 * all->in_range / all->yarns;
}

static double to_buy_off(const struct outcome *all)
{
    return 100 * (all->sure_true - all->sure_said) / all->yarns;
}

/* Errors as the plan has them: nine in ten held 88 to 92 in 100, by each way of measuring too; every
 * fifth of the chances within 2 points of how often it came true. (So many knitters tell a fifth to
 * about 1 point; 16,000 had every tenth within 1.6.) */
static void test_as_supposed(void)
{
    struct outcome all = simulate(LAW_NORMAL, ALIKE, KNITTERS, "errors as supposed");

    CU_ASSERT_DOUBLE_EQUAL(held(&all), 90, 2);
    for (int i = 0; i < WAYS; i++)
        CU_ASSERT_DOUBLE_EQUAL(100.0 * all.in_of[i] / all.of_way[i], 90, 2);
    CU_ASSERT_TRUE(fabs(furthest(&all)) <= 2);
    CU_ASSERT_TRUE(fabs(to_buy_off(&all)) <= 1);
    CU_ASSERT_TRUE(all.refused < KNITTERS / 200);
    CU_ASSERT_TRUE(all.disagree < all.both_kinds / 10); /* no slip: seldom doubted */
}

/* Other laws, and what the plan takes to be alike and is not: how far off docs/formulas.md says the
 * words are. */
static void test_otherwise(void)
{
    static const struct {
        enum law law;
        enum unlike unlike;
        const char *name;
        double low, high; /* nine in ten held */
    } cases[] = {
        {LAW_SKEWED, ALIKE, "skewed to the long side", 92, 96},
        {LAW_TAILED, ALIKE, "heavy tails, t of 4 degrees", 90, 94},
        {LAW_SLIPS, ALIKE, "2 in 100 knit 20 % otherwise", 86, 90},
        {LAW_NORMAL, YARNS_UNLIKE, "yarns unlike by 3 %", 84, 89},
        {LAW_NORMAL, BALLS_UNLIKE, "each yarn's balls out by themselves", 86, 92},
    };

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct outcome all = simulate(cases[i].law, cases[i].unlike, FEWER, cases[i].name);

        CU_ASSERT_TRUE(held(&all) >= cases[i].low && held(&all) <= cases[i].high);
        CU_ASSERT_TRUE(fabs(to_buy_off(&all)) <= 2);
    }
}

CU_TestInfo tests_knitters[] = {
    {"from the swatch to the last ball", test_as_supposed},
    {"with other errors, no further off than is written", test_otherwise},
    CU_TEST_INFO_NULL,
};
