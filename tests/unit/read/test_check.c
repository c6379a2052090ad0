/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is judged before any maths: each contradiction and caution at its place.
 */
#include <CUnit/CUnit.h>

#include "check/check.h"
#include "fixture_project.h"
#include "seen.h"

/* A chart of the yarns 0 and 1, and of more when asked for, in place of the file. */
struct picture {
    uint8_t cell[4];
    struct chart chart;
};

static const struct chart *picture_of(struct work *work, uint8_t third, int side_cols)
{
    struct picture *picture = arena_alloc(work->arena, 1, sizeof *picture);

    picture->cell[1] = 1;
    picture->cell[2] = third;
    picture->cell[3] = GRID_NO_STITCH;
    picture->chart.name = "ripple.chart";
    picture->chart.repeat = (struct grid){1, 4, picture->cell};
    picture->chart.left = (struct grid){1, side_cols, picture->cell};
    return &picture->chart;
}

static const struct project *read_and_check(struct work *work, const char *text, uint8_t third,
                                            int side_cols)
{
    const struct project *project = fixture_read(work, text);
    const struct chart **charts = arena_alloc(work->arena, (size_t)project->nparts, sizeof *charts);

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND) {
            struct chart *chart = arena_alloc(work->arena, 1, sizeof *chart);

            *chart = *picture_of(work, third, side_cols);
            chart->at = project->parts[i].chart[0].at;
            charts[i] = chart;
        }
    check_project(work, project, charts);
    return project;
}

static void nothing_to_say(void)
{
    struct work work = fixture_work_with_tables();

    read_and_check(&work, fixture_good, 0, 0);
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    if (seen_all(&work) > 0)
        fprintf(stderr, "%s", fixture_printed(&work, false));
    fixture_end(&work);
}

#define ROUND_TO_FLAT "worked = round\nunits = in\n[swatch]\nworked = round"
#define FLAT(rest) "worked = flat\nunits = in\n[swatch]\nworked = flat" rest

static const struct spoilt judged[] = {
    /* yarns */
    {"yarn = cream\nlength", "yarn = crem\nlength", DIAG_YARN_UNKNOWN, 28, 8,
     "Did you mean cream?"},
    {"1 round cream", "1 round moss", DIAG_YARN_UNKNOWN, 26, 24, "these: cream, slate."},
    {"standard, cream", "standard, crean", DIAG_YARN_UNKNOWN, 44, 22, "Did you mean cream?"},
    {"slate 12 took", "slat 12 took", DIAG_YARN_UNKNOWN, 12, 52, "Did you mean slate?"},
    {"kind = long tail", "purl yarn = slat", DIAG_YARN_UNKNOWN, 19, 13, "Did you mean slate?"},
    {"[yarn slate]", "[yarn coral]\nmark = o\nduplicate over = crem\n[yarn slate]",
     DIAG_YARN_UNKNOWN, 36, 18, "Did you mean cream?"},
    {"slate 12 took", "CREAM 12 took", DIAG_KEYS_CLASH, 12, 52, "the same one"},
    {"[yarn slate]\n", "[yarn coral]\nmark = o\nduplicate over = coral\n[yarn slate]\n",
     DIAG_CHART_UNDER, 36, 18, "coral cannot be sewn over itself"},
    {"[yarn slate]\n",
     "[yarn coral]\nmark = o\nduplicate over = gold\n[yarn gold]\nmark = g\nduplicate over = "
     "cream\n[yarn slate]\n",
     DIAG_CHART_UNDER, 36, 18, "gold is itself sewn on"},
    {"1 round cream", "1 round coral\n[yarn coral]\nmark = o\nduplicate over = cream",
     DIAG_KEYS_CLASH, 26, 24, "coral is sewn on afterwards"},
    /* marks */
    {"mark = x", "mark = .", DIAG_MARK_TWICE, 35, 8, "mark of cream, on line 31"},
    {"mark = x", "mark = -", DIAG_MARK_FORM, 35, 8, "stands for no stitch"},
    {"title = Cuffs", "no stitch = x", DIAG_MARK_FORM, 35, 8, "stands for no stitch"},
    /* keys that contradict each other */
    {"slack = 10 %", "catch at = 1 in", DIAG_KEYS_CLASH, 38, 12, "Keep one"},
    {"leave up to = 1 in", "catch at = 1 in\nleave up to = 1 in", DIAG_KEYS_CLASH, 38, 15,
     "(line 38) and \"catch at\" (line 37)"},
    {"ease = 2 %", "width = 5 in", DIAG_KEYS_CLASH, 17, 9, "in the round"},
    {"repeats = fit", "width = 5 in", DIAG_KEYS_CLASH, 25, 9, "twice the width"},
    {ROUND_TO_FLAT, FLAT(""), DIAG_KEYS_CLASH, 16, 10, "it has a width"},
    {"selvedge = 0", "selvedge = 1", DIAG_KEYS_CLASH, 43, 12, "no edge for selvedge"},
    {"edges = anchor", "edges = turn", DIAG_KEYS_CLASH, 45, 9, "no edge at which"},
    {"rib = knit 2 purl 2, 12 rounds\n", "", DIAG_KEYS_CLASH, 21, 16, "there is no rib"},
    {"rib = knit 2 purl 2, 12 rounds\nrib stitches = 72", "purl yarn = slate", DIAG_KEYS_CLASH, 21,
     13, "there is no rib"},
    {"rib = knit 2 purl 2, 12 rounds\nrib stitches = 72", "rib stitches = 90 %", DIAG_KEYS_CLASH,
     21, 16, "there is no rib"},
    {"length = 5 in", "length = 5 in\nstitches on needle = 72\naround = 9 in", DIAG_KEYS_CLASH, 30,
     22, "how many stitches leg has"},
    {"standard, cream", "none, cream", DIAG_KEYS_CLASH, 44, 18, "no yarn is needed"},
    /* the swatch */
    {"31 1/2, 32, 32 1/4", "32", DIAG_GAUGE_ONE_PLACE, 10, 12, "The stitches were counted"},
    {"38, 38 1/2, 38", "38", DIAG_GAUGE_ONE_PLACE, 11, 8, "The rows were counted"},
    {"31 1/2, 32, 32 1/4\nrows = 38, 38 1/2, 38", "32\nrows = 38", DIAG_GAUGE_ONE_PLACE, 10, 12,
     "Stitches and rows"},
    {"over = 4 in\nstitches = 31 1/2, 32, 32 1/4\nrows = 38, 38 1/2, 38",
     "over = 9.9 cm\nstitches = 31, 31\nrows = 38, 38", DIAG_GAUGE_SMALL, 9, 8, "3 7/8 in"},
    {"38, 38 1/2, 38", "31, 31, 31", DIAG_GAUGE_SWAPPED, 11, 8, "7.98 stitches but only 7 3/4"},
    {"stitches = 22, 22", "stitches = 26 1/4, 26", DIAG_GAUGE_SWAPPED, 49, 8, "swapped"},
    {"31 1/2, 32, 32 1/4\nrows = 38, 38 1/2, 38", "57, 57\nrows = 60, 60", DIAG_GAUGE_UNUSUAL, 10,
     12, "14 1/4 stitches"},
    {"stitches = 22, 22", "stitches = 7, 7", DIAG_GAUGE_UNUSUAL, 48, 12, "1 3/4 stitches"},
    {"worked = round\nwashed", "worked = flat\nwashed", DIAG_GAUGE_FLAT, 7, 10, "worked flat"},
    {"washed = yes", "washed = no", DIAG_GAUGE_UNWASHED, 8, 10, "was not washed"},
    {"washed = yes\n", "", DIAG_GAUGE_UNWASHED, 6, 2, "not said"},
    {"[measure]", "[swatch plain]\nover = 4 in\nstitches = 30, 30\nrows = 40, 40\n[measure]",
     DIAG_GAUGE_UNWASHED, 15, 2, "not said that the plain swatch"},
    /* Which of two it is stands in the words: in the plan there is no line. */
    {"[measure]", "[swatch plain]\nwashed = no\nover = 4 in\nstitches = 30, 30\nrows = 40, 40\n[measure]",
     DIAG_GAUGE_UNWASHED, 16, 10, "The plain swatch was not washed"},
    {"[measure]", "[swatch plain]\nwashed = yes\nover = 4 in\nstitches = 30\nrows = 40, 40\n[measure]",
     DIAG_GAUGE_ONE_PLACE, 18, 12, "The stitches of the plain swatch were counted"},
    {"[measure]", "[swatch plain]\nwashed = yes\nover = 2 in\nstitches = 15, 15\nrows = 20, 20\n[measure]",
     DIAG_GAUGE_SMALL, 17, 8, "The gauge of the plain swatch"},
    {"[measure]", "[swatch plain]\nworked = flat\nwashed = yes\nover = 4 in\nstitches = 30, 30\n"
                  "rows = 40, 40\n[measure]",
     DIAG_GAUGE_FLAT, 16, 10, "The plain swatch was worked flat, the piece is worked in the round"},
    /* balls and measures */
    {"50 g, 210 m", "50 g, 460 yd", DIAG_BALL_UNUSUAL, 33, 8, "the cream would run 8.4 m to the gram"},
    {"50 g, 120 m", "500 g, 120 m", DIAG_BALL_UNUSUAL, 50, 8, "0.24 m to the gram"},
    {"50 g, 210 m", "50 g, 1.9 m", DIAG_BALL_UNUSUAL, 33, 8, "A ball of the cream would be hardly longer than the ends of a join"},
    {"needle = 2.75 mm", "ball weighed = cream 60.1 g to 58 g: 800 stitches", DIAG_BALL_HEAVY, 14, 16,
     "50 g by its band, and was weighed as 60.1 g"},
    /* By hand: 7.96 m/g at 0.55 g/cm3 are 0.539 mm thick, 0.169 of 3.183 mm: under 0.17. */
    {"50 g, 210 m", "50 g, 398 m", DIAG_BALL_GAUGE, 33, 8, "the cream is very thin for 7.98 stitches"},
    {"50 g, 210 m", "100 g, 210 m", DIAG_BALL_GAUGE, 33, 8, "very thick for 7.98 stitches"},
    {"50 g, 120 m", "100 g, 120 m", DIAG_BALL_GAUGE, 50, 8, "the yarn of try thicker is very thick for 5 1/2 stitches"},
    {"weight = 6.6 g: 40", "scale = 0.1 g\nweight = 6.62 g: 40", DIAG_WEIGHT_STEP, 14, 10, "cannot show 6.62 g"},
    {"needle = 2.75 mm", "ball weighed = cream 41 g to 48 g: 800 stitches", DIAG_LOOP_UNSOLVED, 14,
     16, "weighs no less"},
    {"needle = 2.75 mm", "ball weighed = crem 48 g to 41 g: 800 stitches", DIAG_YARN_UNKNOWN, 14, 16,
     "Did you mean cream?"},
    {"around = 10 1/4 in", "around = 102", DIAG_MEASURE_UNUSUAL, 16, 10, "write cm"},
    {"around = 10 1/4 in", "around = 1.9 in", DIAG_MEASURE_UNUSUAL, 16, 10, "very small"},
    {"repeats = fit", "around = 82 in", DIAG_MEASURE_UNUSUAL, 25, 10, "very large"},
    /* against the charts */
    {"[yarn slate]", "[yarn moss]\nmark = m\n[yarn slate]", DIAG_YARN_UNUSED, 36, 2, "slate"},
    {"mark = x\n", "", DIAG_KEY_MISSING, 34, 2, "slate"},
    {"mark = .\n", "", DIAG_KEY_MISSING, 30, 2, "cream"},
};

static void each_judgement(void)
{
    for (size_t i = 0; i < sizeof judged / sizeof judged[0]; i++) {
        struct work work = fixture_work_with_tables();

        read_and_check(&work, fixture_spoilt(&work, judged[i].from, judged[i].to), 0, 0);
        fixture_assert_only(&work, &judged[i]);
        fixture_end(&work);
    }
}

/* A ball band that does not go with so extreme a gauge is another matter. */
static int seen_but_ball(struct work *work)
{
    int count, others = 0;
    const struct diag *diag = diagnostics_sorted(work->diagnostics, &count);

    for (int i = 0; i < count; i++)
        others += diag[i].code != DIAG_BALL_GAUGE;
    return others;
}

/* What stands just inside the limits is not spoken of. */
static void limits_are_sharp(void)
{
    static const char *const fine[][2] = {
        {"over = 4 in\nstitches = 31 1/2", "over = 10 cm\nstitches = 31 1/2"},
        {"31 1/2, 32, 32 1/4\nrows = 38, 38 1/2, 38", "56, 56\nrows = 56, 56"},
        {"stitches = 22, 22", "stitches = 8, 8"},
        {"50 g, 210 m", "50 g, 400 m"},
        {"50 g, 120 m", "100 g, 30 m"},
        {"around = 10 1/4 in", "around = 80 in"},
        {"around = 10 1/4 in", "around = 2 in"},
        {"selvedge = 0\nbind-off = standard, cream\nedges = anchor",
         "selvedge = 1\nsteek = 7\nedges = turn"},
        {"rib stitches = 72", "rib stitches = same\npurl yarn = slate"},
        {"mark = x", "mark = x\n[plain heel]\nyarn = rust\nrounds = 20\n[yarn rust]"},
    };

    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++) {
        struct work work = fixture_work_with_tables();

        read_and_check(&work, fixture_spoilt(&work, fine[i][0], fine[i][1]), 0, 0);
        CU_ASSERT_EQUAL(seen_but_ball(&work), 0);
        if (seen_but_ball(&work) > 0)
            fprintf(stderr, "\n%s: %s\n", fine[i][1], fixture_printed(&work, false));
        fixture_end(&work);
    }
}

static void flat_and_steek(void)
{
    struct work work = fixture_work_with_tables();

    read_and_check(&work,
                   "[project]\nworked = flat\n[swatch]\nworked = round\nwashed = yes\nover = 4 in\n"
                   "stitches = 30, 30\nrows = 40, 40\n[measure]\nwidth = 130 in\n[edges]\n"
                   "selvedge = 1\nsteek = 7\nedges = turn\n[band a]\nchart = a\naround = 9 in\n"
                   "[yarn cream]\nmark = .\n[yarn slate]\nmark = x\n",
                   0, 0);
    CU_ASSERT_TRUE(seen_at(&work, DIAG_GAUGE_FLAT, "worked in the round, the piece", 4, 10));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_MEASURE_UNUSUAL, "\"width\" comes to 130 in", 10, 9));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_KEYS_CLASH, "A steek is cut in a tube", 13, 9));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_KEYS_CLASH, "it has a width", 17, 10));
    CU_ASSERT_EQUAL(seen_all(&work), 4);
    fixture_end(&work);
}

static void side_stitches(void)
{
    struct work work = fixture_work_with_tables();

    read_and_check(&work, fixture_good, 0, 2);
    CU_ASSERT_TRUE(seen_at(&work, DIAG_CHART_SIDES, "side stitches of ripple.chart", 24, 9));
    CU_ASSERT_EQUAL(seen_all(&work), 1);
    fixture_end(&work);
}

/* A sewn yarn that is drawn uses the yarn under it, which the chart does not show. */
static void yarns_under_are_used(void)
{
    struct work work = fixture_work_with_tables();
    const char *text = fixture_spoilt(&work, "[float]",
                                      "[yarn rust]\nmark = r\n[yarn coral]\n"
                                      "mark = o\nduplicate over = rust\n[float]");

    read_and_check(&work, text, 3, 0);
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    read_and_check(&work, text, 0, 0);
    CU_ASSERT_TRUE(seen_at(&work, DIAG_YARN_UNUSED, "rust", 36, 2));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_YARN_UNUSED, "coral", 38, 2));
    CU_ASSERT_EQUAL(seen_all(&work), 2);
    fixture_end(&work);
}

/* A chart that could not be read may have used any of them. */
static void unread_charts(void)
{
    struct work work = fixture_work_with_tables();
    const struct project *project =
        fixture_read(&work, fixture_spoilt(&work, "[float]", "[yarn rust]\nmark = r\n[float]"));
    const struct chart *const charts[2] = {NULL, NULL};

    check_project(&work, project, charts);
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    fixture_end(&work);
}

extern CU_TestInfo tests_check[];
CU_TestInfo tests_check[] = {{"a good project gets no word", nothing_to_say},
                             {"each judgement at its place, and no other", each_judgement},
                             {"what stands just inside a limit gets no word", limits_are_sharp},
                             {"flat work with what belongs to a tube", flat_and_steek},
                             {"side stitches in the round", side_stitches},
                             {"a sewn yarn uses the one under it", yarns_under_are_used},
                             {"unread charts: nobody is called unused", unread_charts},
                             CU_TEST_INFO_NULL};
