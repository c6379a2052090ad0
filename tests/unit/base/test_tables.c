/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/Basic.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "app/disk.h"
#include "base/arena.h"
#include "base/source.h"
#include "base/tables.h"
#include "base/work.h"
#include "seen.h"

extern CU_TestInfo tests_tables[];

static struct work work_create(void)
{
    struct work work = {.arena = arena_create((size_t)1 << 28), .outside = &disk};

    work.diagnostics = diagnostics_create(work.arena);
    work.tables = tables_load(&work);
    return work;
}

static void shipped_are_sound(void)
{
    static const char *const names[] = {"allowances", "bodies", "needles", "shades",
                                        "yarn_weights"};
    struct work work = work_create();

    CU_ASSERT_FATAL(work.tables != NULL);
    CU_ASSERT_EQUAL(tables_count(work.tables), 5);
    for (int i = 0; i < tables_count(work.tables); i++) {
        const struct table *table = tables_at(work.tables, i);

        CU_ASSERT_STRING_EQUAL(table->name, names[i]);
        CU_ASSERT_STRING_EQUAL(table->origin, "built in");
        CU_ASSERT_EQUAL(tables_check(&work, table), 0);
        CU_ASSERT(tables_find(work.tables, names[i]) == table);
    }
    CU_ASSERT(tables_find(work.tables, "hats") == NULL);
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    arena_destroy(work.arena);
}

/* Sources as in the table; copied here by hand from the printed pages named there. */
static void values_as_published(void)
{
    static const struct {
        const char *key;
        double value;
    } rows[] = {
        {"loop_ks_washed", 21.6},
        {"loop_ks_unwashed", 19.0}, /* Munden 1959 in Spencer 2001 */
        {"loop_kw_washed", 4.1},
        {"loop_kw_unwashed", 3.8},
        {"loop_thickness_diameters", 5.94}, /* Peirce 1947, from memory */
        {"float_limit_in", 1},              /* common practice: an inch */
        {"tail_in", 6},                     /* common practice: 4 to 6 in */
    };
    struct work work = work_create();

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        CU_ASSERT_DOUBLE_EQUAL(tables_value(work.tables, rows[i].key), rows[i].value, 0);
    arena_destroy(work.arena);
}

/* The keys other parts of the program ask for. */
static void keys_are_there(void)
{
    static const char *const keys[] = {
        "float_limit_in",
        "float_limit_child_in",
        "slack_default",
        "loop_ks_washed",
        "loop_ks_unwashed",
        "loop_kw_washed",
        "loop_kw_unwashed",
        "loop_thickness_widths",
        "loop_thickness_rows",
        "loop_thickness_diameters",
        "yarn_packing_g_per_cm3",
        "catch_stitch_widths",
        "carry_wait_in",
        "carry_row_ratio",
        "tail_in",
        "join_tails",
        "cast_on_long_tail_widths",
        "cast_on_long_tail_extra_in",
        "cast_on_other_widths",
        "bind_off_standard_widths",
        "bind_off_standard_extra_in",
        "bind_off_sewn_widths",
        "bind_off_sewn_extra_in",
        "bind_off_cord_widths",
        "rib_loop_ratio",
        "seam_lengths",
        "seam_extra_in",
        "duplicate_loop_ratio",
        "duplicate_tails_in",
        "duplicate_reach_stitches",
        "margin_measured",
        "margin_gauge_only",
        "close_call_high",
        "close_call_low",
        "needle_fit_ratio",
        "freed_yarn_pull",
        "tension_drift",
        "loop_error_gauge",
        "float_long_stitches",
        "gauge_spread_remeasure",
        "gauge_spread_swatch_again",
        "chart_wide_ratio",
    };
    struct work work = work_create();

    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        const struct allowance *a = tables_allowance(work.tables, keys[i]);

        CU_ASSERT_STRING_EQUAL(a->key, keys[i]);
        CU_ASSERT(a->value > 0 && a->what[0] != '\0');
    }
    CU_ASSERT_STRING_EQUAL(tables_allowance(work.tables, "no_such_key")->key, "");
    CU_ASSERT(isnan(tables_value(work.tables, "no_such_key")));
    CU_ASSERT(tables_allowance_count(work.tables) >= (int)(sizeof keys / sizeof *keys));
    CU_ASSERT_STRING_EQUAL(tables_allowance_at(work.tables, 0)->key, "float_limit_in");
    arena_destroy(work.arena);
}

static int row_of(const struct table *table, const char *column, const char *field)
{
    for (int row = 0; row < table->nrows; row++)
        if (strcmp(table_field(table, row, column), field) == 0)
            return row;
    return -1;
}

/* Source: Craft Yarn Council, Standard Yarn Weight System. Its needle ranges, in millimetres
 * and US sizes, tie the two tables together. */
static void weights_and_needles_agree(void)
{
    static const char *const us[8][2] = {{"000", "1"}, {"1", "3"},  {"3", "5"},   {"5", "7"},
                                         {"7", "9"},   {"9", "11"}, {"11", "17"}, {"17", ""}};
    struct work work = work_create();
    const struct table *weights = tables_find(work.tables, "yarn_weights");
    const struct table *needles = tables_find(work.tables, "needles");

    CU_ASSERT_EQUAL_FATAL(weights->nrows, 8);
    for (int row = 0; row < 8; row++)
        for (int end = 0; end < 2; end++) {
            const char *column = end == 0 ? "needle_mm_min" : "needle_mm_max";
            int needle = row_of(needles, "us", us[row][end]);

            if (us[row][end][0] == '\0') {
                CU_ASSERT(isnan(table_number(weights, row, column)));
                continue;
            }
            CU_ASSERT_FATAL(needle >= 0);
            CU_ASSERT_DOUBLE_EQUAL(table_number(weights, row, column),
                                   table_number(needles, needle, "mm"), 0);
        }
    CU_ASSERT_DOUBLE_EQUAL(table_number(weights, 1, "knit_sts_4in_min"), 27, 0);
    CU_ASSERT_DOUBLE_EQUAL(table_number(weights, 1, "knit_sts_4in_max"), 32, 0);
    CU_ASSERT_STRING_EQUAL(table_field(weights, 1, "name"), "Super Fine");
    arena_destroy(work.arena);
}

/* Source: ANSUR II: median head of women 560 mm, 22 in; heel and ankle about 36 per cent above
 * the ball of the foot by the means. */
static void bodies_as_measured(void)
{
    struct work work = work_create();
    const struct table *bodies = tables_find(work.tables, "bodies");
    double heel = 0, ball = 0;

    CU_ASSERT_EQUAL_FATAL(bodies->nrows, 42);
    CU_ASSERT_STRING_EQUAL(table_field(bodies, 0, "measure"), "head around");
    CU_ASSERT_DOUBLE_EQUAL(table_number(bodies, 0, "p50_mm") / 25.4, 22, 0.06);
    for (int row = 0; row < bodies->nrows; row++) {
        const char *name = table_field(bodies, row, "ansur_name");

        if (strcmp(name, "heelanklecircumference") == 0)
            heel += table_number(bodies, row, "mean_mm");
        if (strcmp(name, "balloffootcircumference") == 0)
            ball += table_number(bodies, row, "mean_mm");
    }
    CU_ASSERT_DOUBLE_EQUAL(heel / ball, 1.36, 0.005);
    arena_destroy(work.arena);
}

static unsigned shade(const struct work *work, const char *text)
{
    unsigned char rgb[3] = {1, 2, 3};

    if (!tables_shade(work->tables, text, rgb))
        return 0xbad0000;
    return (unsigned)rgb[0] << 16 | (unsigned)rgb[1] << 8 | rgb[2];
}

/* Source: W3C CSS Color Module Level 4, "Named Colors"; values from memory, and 148 names. */
static void shades_by_name(void)
{
    struct work work = work_create();

    CU_ASSERT_EQUAL(tables_find(work.tables, "shades")->nrows, 148);
    CU_ASSERT_EQUAL(shade(&work, "ivory"), 0xfffff0);
    CU_ASSERT_EQUAL(shade(&work, "Ivory"), 0xfffff0);
    CU_ASSERT_EQUAL(shade(&work, "rebeccapurple"), 0x663399);
    CU_ASSERT_EQUAL(shade(&work, "darkslategray"), 0x2f4f4f);
    CU_ASSERT_EQUAL(shade(&work, "DARKSLATEGREY"), 0x2f4f4f);
    CU_ASSERT_EQUAL(shade(&work, "green"), 0x008000); /* not the 00ff00 of other lists */
    CU_ASSERT_EQUAL(shade(&work, "maroon"), 0x800000);
    CU_ASSERT_EQUAL(shade(&work, "aliceblue"), 0xf0f8ff);
    CU_ASSERT_EQUAL(shade(&work, "yellowgreen"), 0x9acd32);
    CU_ASSERT_EQUAL(shade(&work, "tomato"), 0xff6347);
    CU_ASSERT_EQUAL(shade(&work, "#f3ead7"), 0xf3ead7);
    CU_ASSERT_EQUAL(shade(&work, "#F3eAD7"), 0xf3ead7);
    CU_ASSERT_EQUAL(shade(&work, "#2c7"), 0x22cc77);
    arena_destroy(work.arena);
}

static void shades_refused(void)
{
    static const char *const texts[] = {"",        "#",      "#12",  "#1234",  "#12345", "#1234567",
                                        "#12g456", "f3ead7", "ivor", "ivory ", "mossy"};
    struct work work = work_create();

    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        CU_ASSERT_EQUAL(shade(&work, texts[i]), 0xbad0000);
    arena_destroy(work.arena);
}

/* A small sound table, in three pieces so that a test can spoil one. */
#define HEAD                                                                                       \
    "# What\n#   A test.\n# Columns\n#   us: size; mm, also_mm: millimetres; standing; source.\n"
#define HEAD_REST "# Not here and why\n#   Nothing.\n# How to change\n#   A copy.\n"
#define SOURCES "# Sources\n#   1. A book.\n#   2. Another\n#      1959. book.\n"
#define COLUMNS "us,mm,also_mm,standing,source\n"
#define ROWS "2,2.75,,measured,1\n\"2.5\",3,,common practice,none\n3,3.25,3.3,memory,1+2\n"

static const struct table *needles_of(struct work *work, const char *text)
{
    const struct source *source = source_from_text(work, "my/needles.csv", text);

    return table_read(work, source, "my/needles.csv");
}

static void small_table_read(void)
{
    struct work work = work_create();
    const struct table *table = needles_of(
        &work, HEAD SOURCES HEAD_REST COLUMNS
        "2,2.75,,measured,1\n# a comment\n\n \"a \"\"b\"\", c\" ,\t3 ,, common practice,none");

    CU_ASSERT_FATAL(table != NULL);
    CU_ASSERT_STRING_EQUAL(table->name, "needles");
    CU_ASSERT_EQUAL(table->ncolumns, 5);
    CU_ASSERT_EQUAL_FATAL(table->nrows, 2);
    CU_ASSERT_STRING_EQUAL(table_field(table, 1, "us"), "a \"b\", c");
    CU_ASSERT_STRING_EQUAL(table_field(table, 1, "standing"), "common practice");
    CU_ASSERT_STRING_EQUAL(table_field(table, 0, "also_mm"), "");
    CU_ASSERT(table_field(table, 0, "colour") == NULL);
    CU_ASSERT(isnan(table_number(table, 0, "also_mm")));
    CU_ASSERT(isnan(table_number(table, 0, "standing")));
    CU_ASSERT(isnan(table_number(table, 0, "colour")));
    CU_ASSERT_DOUBLE_EQUAL(table_number(table, 0, "mm"), 2.75, 0);
    CU_ASSERT_DOUBLE_EQUAL(table_number(table, 1, "mm"), 3, 0);
    CU_ASSERT_EQUAL(table->line[1], 17);
    CU_ASSERT(strncmp(table->head, "What\n  A test.\nColumns\n", 23) == 0);
    arena_destroy(work.arena);
}

/* A text with just one fault, and what is said of it. */
struct broken {
    const char *text;
    enum diag_code code;
    const char *words;
    int line; /* 0: the file as a whole */
};

static const struct broken unreadable[] = {
    {HEAD SOURCES HEAD_REST COLUMNS "2,2.75,,measured\n", DIAG_TABLE_FORM, "4 fields", 14},
    {HEAD SOURCES HEAD_REST COLUMNS "2,2.75,,,measured,1\n", DIAG_TABLE_FORM, "6 fields", 14},
    {HEAD SOURCES HEAD_REST COLUMNS "2,\"2.75,,measured,1\n", DIAG_TABLE_FORM, "quote", 14},
    {HEAD SOURCES HEAD_REST COLUMNS "2,\"2.75\"x,,measured,1\n", DIAG_TABLE_FORM, "quote", 14},
    {HEAD SOURCES HEAD_REST COLUMNS "2,2\"75,,measured,1\n", DIAG_TABLE_FORM, "quote", 14},
    {HEAD SOURCES HEAD_REST, DIAG_TABLE_FORM, "no line of column names", 0},
    {"", DIAG_TABLE_FORM, "no line of column names", 0},
};

static void unreadable_refused(void)
{
    for (size_t i = 0; i < sizeof unreadable / sizeof *unreadable; i++) {
        struct work work = work_create();

        CU_ASSERT(needles_of(&work, unreadable[i].text) == NULL);
        CU_ASSERT_EQUAL(seen_all(&work), 1);
        CU_ASSERT(seen_at(&work, unreadable[i].code, unreadable[i].words, unreadable[i].line, 1));
        arena_destroy(work.arena);
    }
}

#define TABLE(rows) HEAD SOURCES HEAD_REST COLUMNS rows

static const struct broken broken_needles[] = {
    {"# Columns\n#   us mm also_mm standing source\n" SOURCES HEAD_REST COLUMNS ROWS,
     DIAG_TABLE_HEAD, "\"What\"", 0},
    {"# What\n# Columns\n#   us mm also_mm standing source\n" SOURCES HEAD_REST COLUMNS ROWS,
     DIAG_TABLE_HEAD, "\"What\"", 0},
    {HEAD SOURCES "# Not here and why\n#   No.\n" COLUMNS ROWS, DIAG_TABLE_HEAD,
     "\"How to change\"", 0},
    {HEAD SOURCES "# How to change\n#   No.\n" COLUMNS ROWS, DIAG_TABLE_HEAD,
     "\"Not here and why\"", 0},
    {HEAD HEAD_REST COLUMNS ROWS, DIAG_TABLE_HEAD, "\"Sources\"", 0},
    {"# What\n#   A test.\n# Columns\n#   us: size; also_mm: millimetres; standing; "
     "source.\n" SOURCES HEAD_REST COLUMNS ROWS,
     DIAG_TABLE_HEAD, "column mm", 0},
    {HEAD SOURCES HEAD_REST "us,mm,standing,source\n2,2.75,measured,1\n", DIAG_TABLE_FORM,
     "columns are not those", 0},
    {HEAD SOURCES HEAD_REST "us,mm,also_mm,source,standing\n2,2.75,,1,measured\n", DIAG_TABLE_FORM,
     "columns are not those", 0},
    {HEAD SOURCES HEAD_REST COLUMNS, DIAG_TABLE_FORM, "no rows", 0},
    {TABLE(ROWS "3,3.25,,measured,1\n"), DIAG_TABLE_KEY, "on line 16", 17},
    {TABLE(ROWS ",3.25,,measured,1\n"), DIAG_TABLE_KEY, "no name", 17},
    {TABLE(ROWS "4,,,measured,1\n"), DIAG_TABLE_VALUE, "mm of 4 is empty", 17},
    {TABLE(ROWS "4,3 mm,,measured,1\n"), DIAG_TABLE_VALUE, "\"3 mm\"", 17},
    {TABLE(ROWS "4,-3,,measured,1\n"), DIAG_TABLE_VALUE, "\"-3\"", 17},
    {TABLE(ROWS "4,3.5,nan,measured,1\n"), DIAG_TABLE_VALUE, "\"nan\"", 17},
    {TABLE(ROWS "4,3.5,1e3,measured,1\n"), DIAG_TABLE_VALUE, "\"1e3\"", 17},
    {TABLE(ROWS "4,3.5,,rumour,1\n"), DIAG_TABLE_SOURCE, "\"rumour\"", 17},
    {TABLE(ROWS "4,3.5,,measured,\n"), DIAG_TABLE_SOURCE, "The source \"\"", 17},
    {TABLE(ROWS "4,3.5,,measured,none\n"), DIAG_TABLE_SOURCE, "\"none\"", 17},
    {TABLE(ROWS "4,3.5,,memory,none\n"), DIAG_TABLE_SOURCE, "\"none\"", 17},
    {TABLE(ROWS "4,3.5,,measured,3\n"), DIAG_TABLE_SOURCE, "\"3\"", 17},
    {TABLE(ROWS "4,3.5,,measured,0\n"), DIAG_TABLE_SOURCE, "\"0\"", 17},
    {TABLE(ROWS "4,3.5,,measured,1+\n"), DIAG_TABLE_SOURCE, "\"1+\"", 17},
    {TABLE(ROWS "4,3.5,,measured,1 2\n"), DIAG_TABLE_SOURCE, "\"1 2\"", 17},
    {TABLE(ROWS "4,3.5,,measured,99999999999999999999\n"), DIAG_TABLE_SOURCE, "\"9999", 17},
    {TABLE("2,2.75,,measured,1\n"), DIAG_TABLE_SOURCE, "No row uses source 2", 0},
    {HEAD "# Sources\n#   1. A.\n#   3. B.\n" HEAD_REST COLUMNS "2,2.75,,measured,1\n",
     DIAG_TABLE_SOURCE, "Source 3", 0},
};

static void broken_needles_reported(void)
{
    struct work sound = work_create();
    const struct table *table = needles_of(&sound, TABLE(ROWS));

    CU_ASSERT_FATAL(table != NULL);
    CU_ASSERT_EQUAL(tables_check(&sound, table), 0);
    arena_destroy(sound.arena);
    for (size_t i = 0; i < sizeof broken_needles / sizeof *broken_needles; i++) {
        const struct broken *b = &broken_needles[i];
        struct work work = work_create();
        const struct table *bad = needles_of(&work, b->text);

        CU_ASSERT_FATAL(bad != NULL);
        CU_ASSERT_EQUAL(tables_check(&work, bad), 1);
        CU_ASSERT_EQUAL(seen_all(&work), 1);
        CU_ASSERT(seen_at(&work, b->code, b->words, b->line, 1));
        arena_destroy(work.arena);
    }
}

/* Faults that need the columns of other tables. head: of the shipped table, rows: ours. */
static void check_rows(const char *name, const char *rows, enum diag_code code, const char *words)
{
    struct work work = work_create();
    const struct table *ours = tables_find(work.tables, name);
    const char *columns = strstr(ours->text, ",standing,source\n");
    const char *text =
        arena_printf(work.arena, "%.*s\n%s", (int)(columns + 16 - ours->text), ours->text, rows);
    const struct table *table = table_read(
        &work, source_from_text(&work, arena_printf(work.arena, "%s.csv", name), text), "a test");

    CU_ASSERT_FATAL(table != NULL);
    CU_ASSERT(tables_check(&work, table) > 0);
    CU_ASSERT(seen_find(&work, code, words) != NULL);
    arena_destroy(work.arena);
}

static void broken_rows_reported(void)
{
    check_rows("allowances", "tail_in,6,4,6,inch,each end,common practice,none\n", DIAG_TABLE_VALUE,
               "unit \"inch\"");
    check_rows("allowances", "tail_in,6,7,8,in,each end,common practice,none\n", DIAG_TABLE_VALUE,
               "value is less than low");
    check_rows("allowances", "tail_in,6,4,5,in,each end,common practice,none\n", DIAG_TABLE_VALUE,
               "high is less than value");
    check_rows("allowances", "tail_in,,7,4,in,each end,common practice,none\n", DIAG_TABLE_VALUE,
               "high is less than low");
    check_rows("allowances", "tail_in,6,,6,in,each end,common practice,none\n", DIAG_TABLE_VALUE,
               "without a range");
    check_rows("yarn_weights", "1,Super Fine,27,26,2.25,3.25,standard,1\n", DIAG_TABLE_VALUE,
               "knit_sts_4in_max is less than knit_sts_4in_min");
    check_rows("bodies", "woman,head around,x,9,550,9,530,540,539,560,570,measured,1\n",
               DIAG_TABLE_VALUE, "woman, head around: p50_mm is less than p25_mm");
    check_rows("shades", "moss,#12345g,judgement,none\n", DIAG_TABLE_VALUE, "#12345g");
    check_rows("shades", "moss,123456,judgement,none\n", DIAG_TABLE_VALUE, "\"123456\"");
    check_rows("shades", "Moss green,#123456,judgement,none\n", DIAG_TABLE_KEY, "\"Moss green\"");
}

/* A file of that name in a folder of its own; removed again by the caller. */
static const char *file_write(struct work *work, const char *folder, const char *name,
                              const char *text)
{
    const char *path = arena_printf(work->arena, "%s/%s", folder, name);
    FILE *file = fopen(path, "w");

    CU_ASSERT_FATAL(file != NULL);
    fputs(text, file);
    fclose(file);
    return path;
}

static const char *replaced(struct work *work, const char *text, const char *old, const char *new)
{
    const char *at = strstr(text, old);

    CU_ASSERT_FATAL(at != NULL);
    return arena_printf(work->arena, "%.*s%s%s", (int)(at - text), text, new, at + strlen(old));
}

static void override_stands_in(void)
{
    char folder[] = "/tmp/strandwise-XXXXXX";
    struct work work = work_create();
    const char *ours = tables_find(work.tables, "allowances")->text;
    const char *path;
    const struct tables *mine;

    CU_ASSERT_FATAL(mkdtemp(folder) != NULL);
    path = file_write(&work, folder, "allowances.csv",
                      replaced(&work, ours, "\ncarry_row_ratio,1.2,", "\ncarry_row_ratio,1.35,"));
    mine = tables_override(&work, work.tables, path);
    CU_ASSERT_FATAL(mine != NULL);
    CU_ASSERT_DOUBLE_EQUAL(tables_value(mine, "carry_row_ratio"), 1.35, 0);
    CU_ASSERT_DOUBLE_EQUAL(tables_value(work.tables, "carry_row_ratio"), 1.2, 0);
    CU_ASSERT_STRING_EQUAL(tables_find(mine, "allowances")->origin, path);
    CU_ASSERT(tables_find(mine, "shades") == tables_find(work.tables, "shades"));
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    unlink(path);
    rmdir(folder);
    arena_destroy(work.arena);
}

static void override_refused(void)
{
    char folder[] = "/tmp/strandwise-XXXXXX";
    struct work work = work_create();
    const char *ours = tables_find(work.tables, "allowances")->text;
    const char *path;

    CU_ASSERT_FATAL(mkdtemp(folder) != NULL);
    CU_ASSERT(tables_override(&work, work.tables, "/tmp/strandwise-none/allowances.csv") == NULL);
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_FILE_MISSING), 1);
    path = file_write(&work, folder, "allowance.csv", ours);
    CU_ASSERT(tables_override(&work, work.tables, path) == NULL);
    CU_ASSERT(seen_find(&work, DIAG_TABLE_KEY, "No table is called allowance.") != NULL);
    unlink(path);
    path = file_write(&work, folder, "allowances.csv",
                      replaced(&work, ours, "\njoin_tails,", "\njoin_ends,"));
    CU_ASSERT(tables_override(&work, work.tables, path) == NULL);
    CU_ASSERT(seen_find(&work, DIAG_TABLE_KEY, "no row join_tails") != NULL);
    path = file_write(&work, folder, "allowances.csv",
                      replaced(&work, ours, ",judgement,none", ",rumour,none"));
    CU_ASSERT(tables_override(&work, work.tables, path) == NULL);
    CU_ASSERT(seen_find(&work, DIAG_TABLE_SOURCE, "rumour") != NULL);
    unlink(path);
    rmdir(folder);
    arena_destroy(work.arena);
}

CU_TestInfo tests_tables[] = {
    {"every shipped table is sound", shipped_are_sound},
    {"allowances hold the published values", values_as_published},
    {"allowances have the keys asked for", keys_are_there},
    {"yarn weights and needles agree", weights_and_needles_agree},
    {"bodies as measured", bodies_as_measured},
    {"shades by name and number", shades_by_name},
    {"what is no shade", shades_refused},
    {"fields, quotes, comments, places", small_table_read},
    {"lines that cannot be split", unreadable_refused},
    {"each fault of a table", broken_needles_reported},
    {"each fault of a row", broken_rows_reported},
    {"a table of one's own", override_stands_in},
    {"a table of one's own, refused", override_refused},
    CU_TEST_INFO_NULL,
};
