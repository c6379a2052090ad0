/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Expected values: the layout and the rules of base/diag.h, laid out by hand.
 */
#include <CUnit/CUnit.h>
#include <string.h>

#include "base/source.h"
#include "base/text.h"
#include "fixture_work.h"

static const struct place nowhere = {0};

/* A source whose lines are all `text`, `lines` of them. */
static const struct source *repeated(struct work *work, const char *name, const char *text,
                                     int lines)
{
    struct text all = text_create(work->arena);

    for (int i = 0; i < lines; i++)
        text_addf(&all, "%s\n", text);
    return source_from_text(work, name, all.bytes);
}

static void one_message(void)
{
    struct work work = fixture_work();
    const struct source *source = repeated(&work, "cuff.ini", "rib stitches = 70", 12);

    diag_add(work.diagnostics, DIAG_RIB_MULTIPLE, (struct place){source, 12, 16, 2},
             "The rib of knit 2 purl 2 needs a multiple of 4 stitches; 70 is not.",
             "Write 68 or 72.");
    CU_ASSERT_STRING_EQUAL(
        fixture_printed(&work, false),
        "cuff.ini:12:16: The rib of knit 2 purl 2 needs a multiple of 4 stitches; 70 is\n"
        "   not.\n"
        "   12 | rib stitches = 70\n"
        "      |                ^^\n"
        "   Write 68 or 72. [rib-multiple]\n"
        "1 thing to put right.\n");
    CU_ASSERT_STRING_EQUAL(fixture_printed(&work, false), "");
    fixture_end(&work);
}

static void places_of_every_kind(void)
{
    struct work work = fixture_work();
    const struct source *source = repeated(&work, "cuff.ini", "mark = x", 3);

    diag_add(work.diagnostics, DIAG_FILE_MISSING, nowhere, "No file is named.", NULL);
    diag_add(work.diagnostics, DIAG_SECTION_MISSING, (struct place){source, 0, 0, 1},
             "There is no gauge.", "Add a section [gauge].");
    diag_add(work.diagnostics, DIAG_YARN_UNUSED, (struct place){source, 2, 8, 1},
             "Nothing uses this yarn.", NULL);
    diag_add(work.diagnostics, DIAG_CHART_SIDES, (struct place){source, 3, 0, 1},
             "Side stitches are left out.", NULL);
    diag_add(work.diagnostics, DIAG_CHART_SIDES, nowhere, "Elsewhere too.", NULL);
    CU_ASSERT_STRING_EQUAL(fixture_printed(&work, false),
                           "No file is named. [file-missing]\n"
                           "Note: Elsewhere too. [chart-sides]\n"
                           "cuff.ini: There is no gauge.\n"
                           "   Add a section [gauge]. [section-missing]\n"
                           "cuff.ini:2:8: Caution: Nothing uses this yarn. [yarn-unused]\n"
                           "    2 | mark = x\n"
                           "      |        ^\n"
                           "cuff.ini:3: Note: Side stitches are left out. [chart-sides]\n"
                           "    3 | mark = x\n"
                           "2 things to put right, 1 caution, 2 notes.\n");
    fixture_end(&work);
}

/* The two lines of the excerpt of the only message. */
static const char *excerpt(const char *line, int column, int width, char out[400])
{
    struct work work = fixture_work();
    const struct source *source = source_from_text(&work, "f", line);
    const char *printed, *end;

    diag_add(work.diagnostics, DIAG_VALUE_NUMBER, (struct place){source, 1, column, width}, "W.",
             "T.");
    printed = strchr(fixture_printed(&work, false), '\n') + 1;
    end = strstr(printed, "   T.");
    snprintf(out, 400, "%.*s", (int)(end - printed), printed);
    fixture_end(&work);
    return out;
}

static void carets_line_up(void)
{
    char out[400];

    CU_ASSERT_STRING_EQUAL(excerpt("\tarm\t= 8½ ells", 11, 4, out), "    1 |  arm = 8½ ells\n"
                                                                    "      |           ^^^^\n");
    /* width never reaches past the line; a place behind the end is still shown */
    CU_ASSERT_STRING_EQUAL(excerpt("arm =", 5, 99, out), "    1 | arm =\n"
                                                         "      |     ^\n");
    CU_ASSERT_STRING_EQUAL(excerpt("arm =   ", 7, 3, out), "    1 | arm =\n"
                                                           "      |      ^\n");
    CU_ASSERT_STRING_EQUAL(excerpt("\n", 1, 1, out), "    1 |\n"
                                                     "      | ^\n");
    /* nothing that could upset a terminal */
    CU_ASSERT_STRING_EQUAL(excerpt("a\033[31m\xFF\xC2\x9Bz", 9, 1, out), "    1 | a?[31m??z\n"
                                                                         "      |         ^\n");
}

static void long_lines_are_cut(void)
{
    char line[301], shown[400], out[400];

    for (int i = 0; i < 300; i++)
        line[i] = (char)('a' + i % 26);
    line[300] = '\0';
    line[149] = '#'; /* column 150 */
    excerpt(line, 150, 1, out);
    /* the mark and the caret in one column, each line within 80 */
    CU_ASSERT_EQUAL(strchr(out, '#') - out, strchr(out, '^') - (strchr(out, '\n') + 1));
    CU_ASSERT_EQUAL(strncmp(out, "    1 | ...", 11), 0);
    CU_ASSERT_EQUAL(strncmp(strchr(out, '\n') - 3, "...", 3), 0);
    CU_ASSERT(strchr(out, '\n') - out <= 80);
    CU_ASSERT(strchr(out, '\n') - out >= 70);
    /* at the head only the tail is cut, at the end only the head */
    line[0] = '!';
    excerpt(line, 1, 1, out);
    CU_ASSERT_EQUAL(strncmp(out, "    1 | !bcd", 12), 0);
    CU_ASSERT_EQUAL(strncmp(strchr(out, '\n') - 3, "...", 3), 0);
    CU_ASSERT_EQUAL(strchr(out, '^') - (strchr(out, '\n') + 1), 8);
    line[299] = '!';
    excerpt(line, 300, 40, out);
    snprintf(shown, sizeof shown, "%.*s", (int)(strchr(out, '\n') - out), out);
    CU_ASSERT_EQUAL(strncmp(shown, "    1 | ...", 11), 0);
    CU_ASSERT_EQUAL(shown[strlen(shown) - 1], '!');
    CU_ASSERT_EQUAL(strchr(out, '^') - (strchr(out, '\n') + 1), (int)strlen(shown) - 1);
    CU_ASSERT_EQUAL(strchr(out, '^'), strrchr(out, '^'));
}

static void long_words_are_wrapped(void)
{
    struct work work = fixture_work();
    const char *printed;

    diag_add(work.diagnostics, DIAG_KEYS_CLASH, nowhere,
             "knit knit knit knit knit knit knit knit knit knit knit knit knit knit knit knits.",
             "purl purl purl purl purl purl purl purl purl purl purl purl purl purl purl.");
    printed = fixture_printed(&work, false);
    CU_ASSERT_STRING_EQUAL(
        printed, "knit knit knit knit knit knit knit knit knit knit knit knit knit knit knit\n"
                 "   knits.\n"
                 "   purl purl purl purl purl purl purl purl purl purl purl purl purl purl purl.\n"
                 "   [keys-clash]\n"
                 "1 thing to put right.\n");
    fixture_end(&work);
}

static void file_order(void)
{
    struct work work = fixture_work();
    const struct source *a = repeated(&work, "zigzag.ini", "x", 30);
    const struct source *b = repeated(&work, "chart.txt", "x", 30);
    const struct source *again = repeated(&work, "zigzag.ini", "x", 30);
    const struct place places[] = {{a, 20, 1, 1}, {b, 4, 1, 1}, {a, 7, 9, 1},     {b, 3, 8, 1},
                                   {a, 7, 2, 1},  {b, 3, 8, 1}, {again, 7, 5, 1}, {a, 0, 0, 1}};
    static const char expected[] = "HEGCADFB"; /* by file, line, column, arrival */
    const struct diag *sorted;
    int count;

    for (int i = 0; i < 8; i++)
        diag_add(work.diagnostics, DIAG_VALUE_FORM, places[i],
                 arena_printf(work.arena, "%c", 'A' + i), NULL);
    sorted = diagnostics_sorted(work.diagnostics, &count);
    CU_ASSERT_EQUAL_FATAL(count, 8);
    for (int i = 0; i < 8; i++)
        CU_ASSERT_EQUAL(sorted[i].what[0], expected[i]);
    /* one more puts the whole in order again */
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 1, 1, 1}, "Z", NULL);
    CU_ASSERT_STRING_EQUAL(fixture_diag(&work, 1).what, "Z");
    fixture_end(&work);
}

static void repeats_are_dropped(void)
{
    struct work work = fixture_work();
    const struct source *a = repeated(&work, "a", "x", 3), *b = repeated(&work, "b", "x", 3);
    char same[] = "Same.";
    int count;

    for (int i = 0; i < 5; i++) {
        diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 1, 1, 1}, "Same.", "Do.");
        diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 1, 1, 1}, same, "Do.");
    }
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_ERROR), 1);
    /* each of these differs from the first in one thing */
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 1, 1, 1}, "Same.", "Do!");
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 1, 1, 1}, "Same.", NULL);
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 1, 1, 1}, "Same!", "Do.");
    diag_add(work.diagnostics, DIAG_VALUE_UNIT, (struct place){a, 1, 1, 1}, "Same.", "Do.");
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 2, 1, 1}, "Same.", "Do.");
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){a, 1, 2, 1}, "Same.", "Do.");
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){b, 1, 1, 1}, "Same.", "Do.");
    diagnostics_sorted(work.diagnostics, &count);
    CU_ASSERT_EQUAL(count, 8);
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_ERROR), 8);
    fixture_end(&work);
}

static void severities(void)
{
    struct work work = fixture_work();

    diag_add(work.diagnostics, DIAG_YARN_UNUSED, nowhere, "A.", NULL);
    diag_add(work.diagnostics, DIAG_CHART_SHADES, nowhere, "B.", NULL);
    diag_add(work.diagnostics, DIAG_CHART_SHADES, nowhere, "C.", NULL);
    CU_ASSERT(!diagnostics_fatal(work.diagnostics));
    diag_add(work.diagnostics, DIAG_KEY_TWICE, nowhere, "D.", NULL);
    CU_ASSERT(diagnostics_fatal(work.diagnostics));
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_ERROR), 1);
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_CAUTION), 1);
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_NOTE), 2);
    CU_ASSERT_EQUAL(diag_code_severity(DIAG_YARN_UNUSED), DIAG_CAUTION);
    CU_ASSERT_STRING_EQUAL(diag_code_text(DIAG_KEY_UNKNOWN), "unknown-key");
    fixture_end(&work);
}

/* Words in brackets name a message for good: none twice, lower case and hyphens. */
static void codes_are_their_own(void)
{
    int twice = 0, odd = 0;

    for (int a = 0; a < DIAG_CODE_COUNT; a++) {
        const char *text = diag_code_text((enum diag_code)a);

        odd += strspn(text, "abcdefghijklmnopqrstuvwxyz-") != strlen(text) || !*text;
        for (int b = 0; b < a; b++)
            twice += strcmp(text, diag_code_text((enum diag_code)b)) == 0;
    }
    CU_ASSERT_EQUAL(twice, 0);
    CU_ASSERT_EQUAL(odd, 0);
}

static int count_of(const char *text, const char *words)
{
    int count = 0;

    for (; (text = strstr(text, words)) != NULL; text += strlen(words))
        count++;
    return count;
}

static void twenty_and_twenty_are_shown(void)
{
    struct work work = fixture_work();
    const char *printed;

    for (int i = 0; i < 35; i++) {
        diag_add(work.diagnostics, DIAG_VALUE_FORM, nowhere,
                 arena_printf(work.arena, "Fault %d.", i), NULL);
        diag_add(work.diagnostics, i % 2 ? DIAG_GAUGE_FLAT : DIAG_STACK_LEFT, nowhere,
                 arena_printf(work.arena, "Hint %d.", i), NULL);
    }
    printed = fixture_printed(&work, false);
    CU_ASSERT_EQUAL(count_of(printed, "Fault "), 20);
    CU_ASSERT_EQUAL(count_of(printed, "Hint "), 20);
    CU_ASSERT_PTR_NOT_NULL(strstr(printed, "Fault 19."));
    CU_ASSERT_PTR_NULL(strstr(printed, "Fault 20."));
    CU_ASSERT_PTR_NOT_NULL(strstr(printed, "35 things to put right (20 shown), "
                                           "17 cautions (10 shown), 18 notes (10 shown).\n"));
    /* the next stage does not repeat them */
    diag_add(work.diagnostics, DIAG_GAUGE_FLAT, nowhere, "Late.", NULL);
    CU_ASSERT_STRING_EQUAL(fixture_printed(&work, false), "Caution: Late. [gauge-flat]\n"
                                                          "1 caution.\n");
    fixture_end(&work);
}

/* 200,000 messages: kept to a thousand, all counted, and quick; the few others not lost. */
static void a_flood(void)
{
    enum { FLOOD = 200000 };
    struct work work = fixture_work();
    const struct source *source = repeated(&work, "a", "x", 3);
    const char *printed;
    int count;

    for (int i = 0; i < FLOOD; i++)
        diag_add(work.diagnostics, DIAG_GAUGE_FLAT, (struct place){source, 1 + i, 1, 1}, "Again.",
                 NULL);
    diag_add(work.diagnostics, DIAG_VALUE_FORM, (struct place){source, 2, 1, 1}, "Mine.", NULL);
    diagnostics_sorted(work.diagnostics, &count);
    CU_ASSERT_EQUAL(count, 1001);
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_CAUTION), FLOOD);
    printed = fixture_printed(&work, false);
    CU_ASSERT_PTR_NOT_NULL(strstr(printed, "a:2:1: Mine."));
    CU_ASSERT_PTR_NOT_NULL(strstr(printed, "1 thing to put right, 200000 cautions (20 shown).\n"));
    fixture_end(&work);
}

static void colours(void)
{
    struct work work = fixture_work();
    const struct source *source = repeated(&work, "cuff.ini", "slack = 300 %", 2);

    diag_add(work.diagnostics, DIAG_MEASURE_UNUSUAL, (struct place){source, 2, 9, 5},
             "knit knit knit knit knit knit knit knit knit knit knit.", NULL);
    /* as without colours, the marks not counted as columns */
    CU_ASSERT_STRING_EQUAL(fixture_printed(&work, true),
                           "\033[1mcuff.ini:2:9:\033[0m \033[33mCaution: \033[0m"
                           "knit knit knit knit knit knit knit knit knit knit knit.\n"
                           "   [measure-unusual]\n"
                           "    2 | slack = 300 %\n"
                           "      |         \033[33m^^^^^\033[0m\n"
                           "1 caution.\n");
    fixture_end(&work);
}

static void words_are_cleaned(void)
{
    struct work work = fixture_work();
    const struct source *source = repeated(&work, "cu\033ff\n.ini", "x", 1);

    diag_add(work.diagnostics, DIAG_KEY_UNKNOWN, (struct place){source, 0, 0, 1},
             "Nobody knows \033]0;x\007.", "See \xFF.");
    CU_ASSERT_STRING_EQUAL(fixture_printed(&work, false), "cu?ff .ini: Nobody knows ?]0;x?.\n"
                                                          "   See ?. [unknown-key]\n"
                                                          "1 thing to put right.\n");
    fixture_end(&work);
}

CU_TestInfo tests_diag[] = {
    {"one message with its line and carets", one_message},
    {"places of every kind", places_of_every_kind},
    {"carets line up under tabs and fractions", carets_line_up},
    {"long lines are cut round the caret", long_lines_are_cut},
    {"long messages are wrapped", long_words_are_wrapped},
    {"messages come in file order", file_order},
    {"exact repeats are dropped", repeats_are_dropped},
    {"severities are counted", severities},
    {"no code stands for two things", codes_are_their_own},
    {"twenty and twenty are shown, once", twenty_and_twenty_are_shown},
    {"a flood is counted, not kept", a_flood},
    {"colours change no line", colours},
    {"what could upset a terminal is not printed", words_are_cleaned},
    CU_TEST_INFO_NULL,
};
