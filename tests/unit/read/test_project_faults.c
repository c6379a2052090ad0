/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each fault of form in a project file, at its line and column, counted by hand in the text.
 */
#include <CUnit/CUnit.h>

#include "base/text.h"
#include "fixture_project.h"
#include "seen.h"

static const struct spoilt faults[] = {
    /* sections */
    {"[swatch]", "[swach]", DIAG_SECTION_UNKNOWN, 6, 2, "Did you mean [swatch]?"},
    {"[cast-on]", "[cast on]", DIAG_SECTION_UNKNOWN, 18, 2, "Did you mean [cast-on]?"},
    {"[try thicker]", "[tyr thicker]", DIAG_SECTION_UNKNOWN, 46, 2, "Did you mean [try thicker]?"},
    {"[wearer]", "[bicycle]", DIAG_SECTION_UNKNOWN, 51, 2, "[swatch plain], [measure]"},
    {"[float]", "[float loose]", DIAG_SECTION_NAME, 36, 2, "Write [float]."},
    {"[try thicker]", "[try]", DIAG_SECTION_NAME, 46, 2, "Give it one"},
    {"[swatch]", "[swatch stranded]", DIAG_SECTION_NAME, 6, 2, "[swatch plain] for the plain"},
    {"", "[FLOAT]\n", DIAG_SECTION_TWICE, 53, 2, "line 36"},
    /* keys */
    {"ease = 2 %", "eese = 2 %", DIAG_KEY_UNKNOWN, 17, 1, "Did you mean \"ease\"?"},
    {"stitches = 31", "stiches = 31", DIAG_KEY_UNKNOWN, 10, 1, "Did you mean \"stitches\"?"},
    {"[wearer]\n", "[wearer]\naround = 4 in\n", DIAG_KEY_UNKNOWN, 52, 1,
     "[measure], [band NAME] or"},
    {"child = no", "height of it = 2", DIAG_KEY_UNKNOWN, 52, 1, "Its keys are child."},
    {"make = 2\n", "make = 2\nmake = 2\n", DIAG_KEY_TWICE, 4, 1, "line 3"},
    /* choices */
    {"worked = round\nunits", "worked = rund\nunits", DIAG_VALUE_CHOICE, 4, 10, "worked = round?"},
    {"units = in", "units = furlongs", DIAG_VALUE_CHOICE, 5, 9, "Write in or cm."},
    {"spare catches = yes", "spare catches = maybe", DIAG_VALUE_CHOICE, 40, 17, "yes or no"},
    {"repeats = fit", "repeats = fti", DIAG_VALUE_CHOICE, 25, 11, "repeats = fit?"},
    {"rib stitches = 72", "rib stitches = smae", DIAG_VALUE_CHOICE, 22, 16, "same?"},
    {"standard, cream", "standrad, cream", DIAG_VALUE_CHOICE, 44, 12, "standard?"},
    /* numbers */
    {"around = 10 1/4 in", "around = ten", DIAG_VALUE_NUMBER, 16, 10, "no number"},
    {"around = 10 1/4 in", "around = 8 1/0 in", DIAG_VALUE_NUMBER, 16, 10, "no fraction"},
    {"around = 10 1/4 in", "around = 8 in 4", DIAG_VALUE_NUMBER, 16, 10, "more than the number"},
    {"around = 10 1/4 in", "around = 8.1234567 in", DIAG_VALUE_NUMBER, 16, 10, "too many digits"},
    {"stagger = 2", "stagger = 1.5", DIAG_VALUE_NUMBER, 39, 11, "whole number"},
    {"knit 2 purl", "knit 2.5 purl", DIAG_VALUE_NUMBER, 21, 12, "whole number"},
    {"rows = 38, 38 1/2, 38", "rows = 31,32", DIAG_VALUE_LIST, 11, 8, "\"31,32\""},
    {"rows = 38, 38 1/2, 38", "rows = 38, , 38", DIAG_VALUE_NUMBER, 11, 8, "no number"},
    /* units */
    {"around = 10 1/4 in", "around = 50 g", DIAG_VALUE_UNIT, 16, 10, "a weight"},
    {"around = 10 1/4 in", "around = 5 furlongs", DIAG_VALUE_UNIT, 16, 12, "furlongs"},
    {"slack = 10 %", "slack = 12", DIAG_VALUE_UNIT, 38, 9, "Write slack = 12 %."},
    {"slack = 10 %", "slack = 1 in", DIAG_VALUE_UNIT, 38, 9, "per cent"},
    {"slack = 10 %", "slack = 3 in", DIAG_VALUE_UNIT, 38, 9, "slack = 10 %"},
    {"slack = 10 %", "slack = 12 g", DIAG_VALUE_UNIT, 38, 9, "\"12 g\" is a weight; \"slack\" asks for per cent."},
    {"ease = 2 %", "ease = 2", DIAG_VALUE_UNIT, 17, 8, "ease = 2 % or ease = 2 in"},
    {"ease = 2 %", "ease = 2 g", DIAG_VALUE_UNIT, 17, 8, "a weight"},
    {"needle = 2.75 mm", "needle = 3", DIAG_VALUE_UNIT, 14, 10, "needle number"},
    {"make = 2", "make = 2 cm", DIAG_VALUE_UNIT, 3, 8, "a length"},
    {"32, 32 1/4", "32, 32 rows", DIAG_VALUE_UNIT, 10, 24, "a number of rows"},
    {"ball = 50 g, 210 m", "ball = 50, 210", DIAG_VALUE_UNIT, 33, 8, "g or oz"},
    {"6.6 g:", "6.6:", DIAG_VALUE_UNIT, 13, 10, "without a unit"},
    /* ranges */
    {"make = 2", "make = 0", DIAG_VALUE_RANGE, 3, 8, "too small: \"make\" must be 1 to 100"},
    {"make = 2", "make = 101", DIAG_VALUE_RANGE, 3, 8, "too large"},
    {"around = 10 1/4 in", "around = 0 in", DIAG_VALUE_RANGE, 16, 10, "up to 1000 in"},
    {"around = 10 1/4 in", "around = -3 in", DIAG_VALUE_RANGE, 16, 10, "too small"},
    {"around = 10 1/4 in", "around = inf", DIAG_VALUE_RANGE, 16, 10, "too large"},
    {"around = 10 1/4 in", "around = nan", DIAG_VALUE_RANGE, 16, 10, "up to 1000 in"},
    {"around = 10 1/4 in", "around = 99999999 in", DIAG_VALUE_RANGE, 16, 10, "too large"},
    {"around = 10 1/4 in", "around = 26 m", DIAG_VALUE_RANGE, 16, 10, "too large"},
    {"ease = 2 %", "ease = -61 %", DIAG_VALUE_RANGE, 17, 8, "-60 % to 100 %."},
    {"ease = 2 %", "ease = 41 in", DIAG_VALUE_RANGE, 17, 8, "-40 in to 40 in."},
    {"slack = 10 %", "slack = 61 %", DIAG_VALUE_RANGE, 38, 9, "0 % to 60 %"},
    {"stagger = 2", "stagger = 4", DIAG_VALUE_RANGE, 39, 11, "1 to 3"},
    {"clear ends = 1", "clear ends = 3", DIAG_VALUE_RANGE, 41, 14, "1 to 2"},
    {"rib stitches = 72", "rib stitches = 40 %", DIAG_VALUE_RANGE, 22, 16, "50 % to 150 %."},
    {"rib stitches = 72", "rib stitches = 0", DIAG_VALUE_RANGE, 22, 16, "1 to 100000."},
    {"knit 2 purl", "knit 0 purl", DIAG_VALUE_RANGE, 21, 12, "1 to 500"},
    {"31 1/2, 32,", "31 1/2, 0,", DIAG_VALUE_RANGE, 10, 20, "up to 400"},
    {"31 1/2, 32,", "31 1/2, 401,", DIAG_VALUE_RANGE, 10, 20, "up to 400"},
    {"ball = 50 g, 210 m", "ball = 0 g, 210 m", DIAG_VALUE_RANGE, 33, 8, "too small"},
    {"15 1/8 in", "1001 in", DIAG_VALUE_RANGE, 12, 41, "up to 1000 in"},
    /* forms */
    {"31 1/2, 32, 32 1/4", "31 1/2 in 4, 32 in 4", DIAG_VALUE_FORM, 10, 12, "over = 4 in"},
    {"rows = 38, 38 1/2, 38", "rows = 38 per 4 in", DIAG_VALUE_FORM, 11, 8, "over = 4 in"},
    {"ball = 50 g, 210 m", "ball = 50 g", DIAG_VALUE_FORM, 33, 8, "two things"},
    {"ball = 50 g, 210 m", "ball = 50 g 210 m", DIAG_VALUE_FORM, 33, 8, "comma between"},
    {"1 round cream", "1 cream", DIAG_VALUE_FORM, 26, 18, "1 round cream"},
    {"1 round cream", "2 rounds", DIAG_VALUE_FORM, 26, 16, "in which yarn"},
    {"1 round cream", "cream", DIAG_VALUE_FORM, 26, 16, "1 round cream"},
    {"purl 2, 12 rounds", "purl 2", DIAG_VALUE_FORM, 21, 7, "missing behind"},
    {"knit 2 purl 2,", "rib 2 by 2,", DIAG_VALUE_FORM, 21, 7, "not what \"rib\" asks"},
    {"12 rounds", "12 rounds high", DIAG_VALUE_FORM, 21, 32, "high"},
    {"40 stitches:", "a row:", DIAG_VALUE_FORM, 12, 14, "a row"},
    {"cream 28 took 15 1/8 in", "cream took 15 1/8 in", DIAG_VALUE_FORM, 12, 27, "cream 28 took"},
    {", slate 12 took 9 5/8 in", "", DIAG_VALUE_FORM, 12, 14, "missing behind"},
    {"40 stitches, 44 rows", "40 by 44", DIAG_VALUE_FORM, 13, 20, "by 44"},
    {"standard, cream", "standard,", DIAG_VALUE_FORM, 44, 12, "missing behind"},
    {"ripple.chart", "ripple, , stripe", DIAG_VALUE_FORM, 24, 17, "no chart beside"},
    {"shade = #f3ead7", "shade = creem", DIAG_VALUE_FORM, 32, 9, "no colour"},
    {"shade = #f3ead7", "shade = #f3ea", DIAG_VALUE_FORM, 32, 9, "no colour"},
    {"title = Cuffs", "title = \"  \"", DIAG_VALUE_EMPTY, 2, 10, "only blanks"},
    /* marks */
    {"mark = x", "mark = xx", DIAG_MARK_FORM, 35, 8, "not one mark"},
    {"mark = x", "mark = \";\"", DIAG_MARK_FORM, 35, 9, "starts a remark"},
    {"mark = x", "mark = |", DIAG_MARK_FORM, 35, 8, "side stitches"},
    {"mark = x", "mark = \xE2\x80\x8B", DIAG_MARK_FORM, 35, 8, "cannot be seen"},
    /* missing */
    {"over = 4 in\nstitches = 31", "stitches = 31", DIAG_KEY_MISSING, 6, 2, "Write over = 4 in"},
    {"rows = 26, 26\n", "", DIAG_KEY_MISSING, 46, 2, "rows = 26"},
    {"chart = ripple.chart\n", "", DIAG_KEY_MISSING, 23, 2, "the band ripple"},
    {"length = 5 in\n", "", DIAG_KEY_MISSING, 27, 2, "How large"},
    {"[plain leg]\nyarn = cream\n", "[plain leg]\n", DIAG_KEY_MISSING, 27, 2, "Which yarn"},
    {"mark = x\n", "", DIAG_KEY_MISSING, 34, 2, "for slate in the chart"},
    {"around = 10 1/4 in\n", "", DIAG_KEY_MISSING, 15, 2, "around = 10 1/4 in"},
    {"length = 5 in", "length = 5 in\nrounds = 48", DIAG_KEYS_CLASH, 30, 1, "Keep one"},
    {"length = 5 in", "rounds = 48\nrows = 48", DIAG_KEYS_CLASH, 30, 1, "Keep one"},
};

static void faults_of_form(void)
{
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
        struct work work = fixture_work_with_tables();

        fixture_read(&work, fixture_spoilt(&work, faults[i].from, faults[i].to));
        fixture_assert_only(&work, &faults[i]);
        fixture_end(&work);
    }
}

/* Two faults in one value, and all faults of a file at once. */
static void all_at_once(void)
{
    struct work work = fixture_work_with_tables();

    fixture_read(&work, "[project]\nmake = 0\nworked = rund\n[plain leg]\nlength = 3 g\n"
                        "[swatch]\nover = 4 in\nstitches = 0, 500\nrows = x\n");
    CU_ASSERT_TRUE(seen_at(&work, DIAG_VALUE_RANGE, "\"0\" is too small: \"make\"", 2, 8));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_VALUE_CHOICE, "rund", 3, 10));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_KEY_MISSING, "Which yarn", 4, 2));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_VALUE_UNIT, "3 g", 5, 10));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_VALUE_RANGE, "\"0\" is too small: \"stitches\"", 8, 12));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_VALUE_RANGE, "\"500\" is too large", 8, 15));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_VALUE_NUMBER, "\"x\"", 9, 8));
    CU_ASSERT_PTR_NOT_NULL(seen_find(&work, DIAG_SECTION_MISSING, "[band NAME]"));
    CU_ASSERT_PTR_NOT_NULL(seen_find(&work, DIAG_SECTION_MISSING, "[yarn NAME]"));
    CU_ASSERT_PTR_NOT_NULL(seen_find(&work, DIAG_SECTION_MISSING, "[measure]"));
    CU_ASSERT_EQUAL(seen_all(&work), 10);
    fixture_end(&work);
}

static void nothing_at_all(void)
{
    struct work work = fixture_work_with_tables();
    const struct project *project = fixture_read(&work, "");

    CU_ASSERT_PTR_NOT_NULL_FATAL(project);
    CU_ASSERT_EQUAL(project->nparts, 0);
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_SECTION_MISSING), 4);
    CU_ASSERT_EQUAL(seen_find(&work, DIAG_SECTION_MISSING, "[swatch]")->at.line, 0);
    CU_ASSERT_PTR_NULL(project_read(&work, "no/such/project.ini"));
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_FILE_MISSING), 1);
    fixture_end(&work);
}

static void too_many_of_them(void)
{
    static const struct {
        const char *heading, *keys, *words;
        int limit;
    } kinds[] = {
        {"yarn a", "mark = x\n", "64 yarns", GRID_YARNS_MAX},
        {"band a", "chart = a\n", "64 bands and plain parts", PROJECT_BANDS_MAX},
        {"try a", "over = 4 in\nstitches = 22\nrows = 26\n", "64 gauges", PROJECT_TRIES_MAX}};

    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        struct work work = fixture_work_with_tables();
        struct text text = text_create(work.arena);
        const struct project *project;

        for (int k = 0; k < kinds[i].limit + 3; k++)
            text_addf(&text, "[%s%d]\n%s", kinds[i].heading, k, kinds[i].keys);
        project = fixture_read(&work, text.bytes);
        CU_ASSERT_EQUAL(project->nyarns + project->nparts + project->ntries, kinds[i].limit);
        CU_ASSERT_EQUAL(seen_count(&work, DIAG_VALUE_RANGE), 1);
        CU_ASSERT_PTR_NOT_NULL(seen_find(&work, DIAG_VALUE_RANGE, kinds[i].words));
        fixture_end(&work);
    }
}

static void long_lists(void)
{
    struct work work = fixture_work_with_tables();
    struct text counts = text_create(work.arena), charts = text_create(work.arena);
    const struct project *project;

    for (int i = 0; i < PROJECT_COUNTS_MAX + 1; i++)
        text_addf(&counts, "%s32", i ? ", " : "");
    for (int i = 0; i < PROJECT_CHARTS_MAX + 2; i++)
        text_addf(&charts, "%sc%d", i ? "," : "", i);
    project = fixture_read(&work, arena_printf(work.arena,
                                               "[swatch]\nstitches = %s\n[band a]\n"
                                               "chart = %s\n",
                                               counts.bytes, charts.bytes));
    CU_ASSERT_EQUAL(project->swatch.stitches.count, 0);
    CU_ASSERT_TRUE(seen_at(&work, DIAG_VALUE_RANGE, "51 counts", 2, 12));
    CU_ASSERT_EQUAL(project->parts[0].ncharts, PROJECT_CHARTS_MAX);
    CU_ASSERT_STRING_EQUAL(project->parts[0].chart[63].text, "c63");
    CU_ASSERT_PTR_NOT_NULL(seen_find(&work, DIAG_VALUE_RANGE, "64 charts"));
    fixture_end(&work);
}

extern CU_TestInfo tests_project_faults[];
CU_TestInfo tests_project_faults[] = {
    {"each fault of form, at its place, and no other", faults_of_form},
    {"all faults at once", all_at_once},
    {"an empty file and a missing one", nothing_at_all},
    {"more yarns, bands or gauges than there is room for", too_many_of_them},
    {"lists that are too long", long_lists},
    CU_TEST_INFO_NULL};
