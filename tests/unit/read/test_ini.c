/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The scanner before iniparser: what is taken, what is refused and where, and that iniparser
 * never has another value than the one scanned. Expected values: by reading the lines.
 */
#include <CUnit/CUnit.h>

#include "base/text.h"
#include "fixture_work.h"
#include "read/ini/ini.h"
#include "seen.h"

static const struct ini *read_text(struct work *work, const char *text)
{
    return ini_read(work, source_from_text(work, "test.ini", text));
}

/* --- taken -------------------------------------------------------------------------- */

static const struct {
    const char *line, *value;
    int column;
} taken[] = {
    {"k = plain", "plain", 5},
    {"k=tight", "tight", 3},
    {"  k\t=\tspaced out  ", "spaced out", 7},
    {"k = 50 g, 210 m ; a ball", "50 g, 210 m", 5},
    {"k = 50 g, 210 m # a ball", "50 g, 210 m", 5},
    {"k = 8.5\"", "8.5\"", 5},
    {"k = \"in quotes; with # both\"", "in quotes; with # both", 6},
    {"k = \"in quotes\" ; remark", "in quotes", 6},
    {"k = 'single; quotes'", "single; quotes", 6},
    {"k = 'a \" mark'", "a \" mark", 6},
    {"k = 'Tis the season", "'Tis the season", 5},
    {"k = Rob's cuffs", "Rob's cuffs", 5},
    {"k = Rob's 8\" cuffs", "Rob's 8\" cuffs", 5},
    {"k = '\"'", "\"", 6},
    {"k = #f3ead7", "#f3ead7", 5},
    {"k = #abc ; a shade", "#abc", 5},
    {"k = #", "#", 5},
    {"k = # ; the ground", "#", 5},
    {"k = a = b", "a = b", 5},
    {"k = [x]", "[x]", 5},
    {"k = %d %s", "%d %s", 5},
    {"k = cr\xC3\xA8me", "cr\xC3\xA8me", 5},
    {"k =\xC2\xA0"
     "4\xC2\xA0in",
     "4 in", 5},
};

static void values_taken(void)
{
    struct work work = fixture_work();

    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++) {
        const struct ini *ini =
            read_text(&work, arena_printf(work.arena, "[s]\n%s\n", taken[i].line));
        const struct ini_entry *entry = ini_find(ini, 0, "k");

        CU_ASSERT_PTR_NOT_NULL_FATAL(entry);
        CU_ASSERT_PTR_NOT_NULL_FATAL(entry->value);
        CU_ASSERT_STRING_EQUAL(entry->value, taken[i].value);
        CU_ASSERT_EQUAL(entry->at.line, 2);
        CU_ASSERT_EQUAL(entry->at.column, taken[i].column);
    }
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    fixture_end(&work);
}

static void heads_and_keys(void)
{
    struct work work = fixture_work();
    const struct ini *ini = read_text(&work, "; remark ending in a backslash \\\n"
                                             "# another\n"
                                             "[ Band   Ripple\tTwo ] ; remark\n"
                                             "Plain   BEFORE = x\r\n"
                                             "\n"
                                             "[yarn cr\xC3\xA8me]\n"
                                             "last = without a line end");

    CU_ASSERT_EQUAL(seen_all(&work), 0);
    CU_ASSERT_EQUAL_FATAL(ini->nsections, 2);
    CU_ASSERT_EQUAL_FATAL(ini->nentries, 2);
    CU_ASSERT_STRING_EQUAL(ini->sections[0].head, "band ripple two");
    CU_ASSERT_STRING_EQUAL(ini->sections[0].typed, "Band Ripple Two");
    CU_ASSERT_EQUAL(ini->sections[0].at.line, 3);
    CU_ASSERT_EQUAL(ini->sections[0].at.column, 3);
    CU_ASSERT_STRING_EQUAL(ini->entries[0].key, "plain before");
    CU_ASSERT_STRING_EQUAL(ini->entries[0].value, "x");
    CU_ASSERT_STRING_EQUAL(ini->sections[1].typed, "yarn cr\xC3\xA8me");
    CU_ASSERT_EQUAL(ini->sections[1].at.width, 10);
    CU_ASSERT_STRING_EQUAL(ini->entries[1].value, "without a line end");
    fixture_end(&work);
}

/* Columns count characters: the value begins at character 8 whatever stands before. */
static void places_in_a_value(void)
{
    struct work work = fixture_work();
    const struct ini *ini = read_text(&work, "[s]\nch\xC3\xA0rt = \xC3\xA0\xC3\xA0, b\xC3\xA0\n");
    struct place at = ini_value_place(&ini->entries[0], 6, 3);

    CU_ASSERT_EQUAL(ini->entries[0].at.column, 9);
    CU_ASSERT_EQUAL(ini->entries[0].at.width, 6);
    CU_ASSERT_EQUAL(at.column, 13);
    CU_ASSERT_EQUAL(at.width, 2);
    fixture_end(&work);
}

static void joined_sections(void)
{
    struct work work = fixture_work();
    const struct ini *ini = read_text(&work, "[float]\na = one\n[FLOAT]\nb = two\n");

    CU_ASSERT_TRUE(seen_at(&work, DIAG_SECTION_TWICE, "line 1", 3, 2));
    CU_ASSERT_EQUAL(seen_all(&work), 1);
    CU_ASSERT_EQUAL(ini->nsections, 1);
    CU_ASSERT_PTR_NOT_NULL(ini_find(ini, 0, "b"));
    fixture_end(&work);
}

/* --- refused ------------------------------------------------------------------------ */

static const struct {
    const char *text;
    enum diag_code code;
    int line, column;
    const char *words;
} refused[] = {
    {"[s\na = 1\n", DIAG_LINE_SHAPE, 1, 1, "closing bracket"},
    {"[]\na = 1\n", DIAG_LINE_SHAPE, 1, 1, "nothing between"},
    {"[  ]\n", DIAG_LINE_SHAPE, 1, 1, "nothing between"},
    {"[s] k = 2\n", DIAG_LINE_SHAPE, 1, 5, "behind the heading"},
    {"[s]]\n", DIAG_LINE_SHAPE, 1, 4, "behind the heading"},
    {"[yarn:cream]\nk = 2\n", DIAG_SECTION_NAME, 1, 6, "[yarn cream]"},
    {"[yarn a, b]\n", DIAG_SECTION_NAME, 1, 8, "letters, digits"},
    {"[:]\nk = 2\n", DIAG_SECTION_NAME, 1, 2, "space there"},
    {"[s]\nfoo\n", DIAG_LINE_SHAPE, 2, 1, "over = 4 in"},
    {"[s]\n  over: 4 in ; x = y\n", DIAG_LINE_SHAPE, 2, 3, "in place of the colon"},
    {"[s]\n = 4\n", DIAG_LINE_SHAPE, 2, 2, "before the equals sign"},
    {"[s]\na;b = 4\n", DIAG_LINE_SHAPE, 2, 2, "cannot have ;"},
    {"[s]\n\"k\" = 4\n", DIAG_LINE_SHAPE, 2, 1, "cannot have \""},
    {"k = 1\nj = 2\n[s]\n", DIAG_KEY_OUTSIDE, 1, 1, "before any section"},
    {"[s]\nk = 1\nK  = 2\n", DIAG_KEY_TWICE, 3, 1, "line 2"},
    {"[s]\nk =\n", DIAG_VALUE_EMPTY, 2, 3, "Nothing stands after \"k =\""},
    {"[s]\nk = ; no value\n", DIAG_VALUE_EMPTY, 2, 3, "starts a remark"},
    {"[s]\nk = \"\"\n", DIAG_VALUE_EMPTY, 2, 3, "leave the line out"},
    {"[s]\nk = \"open\n", DIAG_QUOTE, 2, 5, "not closed"},
    {"[s]\nk = \"\n", DIAG_QUOTE, 2, 5, "'\"'"},
    {"[s]\nk = \"a\" b\n", DIAG_QUOTE, 2, 9, "behind the closing quote"},
    {"[s]\nk = knit 2;purl 2\n", DIAG_QUOTE, 2, 11, "double quotes"},
    {"[s]\nk = C# notes\n", DIAG_QUOTE, 2, 6, "double quotes"},
    {"[s]\nk = cuffs #2\n", DIAG_QUOTE, 2, 11, "double quotes"},
    {"[s]\nk = # two\n", DIAG_QUOTE, 2, 5, "as a remark or as a value"},
    {"[s]\nk = #a.b\n", DIAG_QUOTE, 2, 5, "as a remark or as a value"},
    {"[s]\nk = charts\\a\n", DIAG_QUOTE, 2, 11, "write / instead"},
    {"[s]\nk = 1, \\\n 2 = 3\n", DIAG_QUOTE, 2, 8, "in the next line"},
    {"[s]\nk = 'Tis 8\"\n", DIAG_QUOTE, 2, 5, "one kind only"},
};

static void values_refused(void)
{
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        struct work work = fixture_work();
        const struct ini *ini = read_text(&work, refused[i].text);
        bool fits = seen_all(&work) == 1 && seen_at(&work, refused[i].code, refused[i].words,
                                                    refused[i].line, refused[i].column);

        CU_ASSERT_TRUE(fits);
        if (!fits)
            fprintf(stderr, "\n%s%s\n", refused[i].text, fixture_printed(&work, false));
        if (refused[i].code == DIAG_QUOTE || refused[i].code == DIAG_VALUE_EMPTY)
            CU_ASSERT_PTR_NULL(ini->entries[0].value);
        fixture_end(&work);
    }
}

static const char *long_text(struct work *work, const char *head, char c, size_t length)
{
    char *text = arena_alloc(work->arena, strlen(head) + length + 2, 1);

    strcpy(text, head);
    memset(text + strlen(head), c, length);
    strcat(text, "\n");
    return text;
}

static void lengths_refused(void)
{
    struct work work = fixture_work();
    const struct ini *ini = read_text(&work, long_text(&work, "[s]\nk = ", 'x', 996));

    CU_ASSERT_EQUAL(strlen(ini->entries[0].value), 996); /* a line of 1000 bytes, the longest */
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    read_text(&work, long_text(&work, "[s]\nk = ", 'x', 997));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_LINE_LENGTH, "1000", 2, 1001));
    read_text(&work, long_text(&work, "[s]\n= 1\n;", 'x', 1000));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_LINE_LENGTH, "remark", 2, 1001));
    fixture_end(&work);
}

static void names_too_long(void)
{
    struct work work = fixture_work();

    read_text(&work, arena_printf(work.arena, "[%081d]\nk = 1\n", 7));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_SECTION_NAME, "too long", 1, 2));
    read_text(&work, arena_printf(work.arena, "[s]\n%061d = 1\n", 7));
    CU_ASSERT_TRUE(seen_at(&work, DIAG_LINE_SHAPE, "too long for a key", 2, 1));
    CU_ASSERT_EQUAL(seen_all(&work), 2);
    fixture_end(&work);
}

/* More lines, sections or faults than any project has: one message, and an end. */
static void too_many(void)
{
    struct work work = fixture_work();
    struct text text = text_create(work.arena);
    const struct ini *ini;

    text_add(&text, "[s]\n");
    for (int i = 0; i < INI_ENTRIES_MAX + 10; i++)
        text_addf(&text, "k%d = 2\n", i);
    ini = read_text(&work, text.bytes);
    CU_ASSERT_EQUAL(ini->nentries, INI_ENTRIES_MAX);
    CU_ASSERT_TRUE(seen_at(&work, DIAG_FILE_SIZE, "more lines", INI_ENTRIES_MAX + 2, 1));
    CU_ASSERT_EQUAL(seen_all(&work), 1);
    text = text_create(work.arena);
    for (int i = 0; i < INI_SECTIONS_MAX + 20; i++)
        text_addf(&text, "[s%d]\n", i);
    ini = read_text(&work, text.bytes);
    CU_ASSERT_EQUAL(ini->nsections, INI_SECTIONS_MAX);
    CU_ASSERT_TRUE(seen_at(&work, DIAG_FILE_SIZE, "more sections", INI_SECTIONS_MAX + 1, 2));
    text = text_create(work.arena);
    for (int i = 0; i < 2 * INI_FAULTS_MAX; i++)
        text_add(&text, "[s\n");
    read_text(&work, text.bytes);
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_LINE_SHAPE), INI_FAULTS_MAX);
    fixture_end(&work);
}

/* --- scanner and iniparser ---------------------------------------------------------- */

static unsigned next_random(unsigned *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

/* Is the value what stands at its place in the file? A space stands for a non-breaking one. */
static bool stands_there(const struct ini *ini, const struct ini_entry *entry)
{
    size_t length, at = 0;
    const char *line = source_line(ini->source, entry->at.line, &length), *value = entry->value;

    for (int column = 1; at < length && column < entry->at.column; column++)
        at += text_character(line + at, length - at, NULL);
    while (*value && at < length) {
        bool nbsp = length - at >= 2 && memcmp(line + at, "\xC2\xA0", 2) == 0;

        if (*value++ != (nbsp ? ' ' : line[at]))
            return false;
        at += nbsp ? 2 : 1;
    }
    return *value == '\0' && text_columns(entry->value) == entry->at.width;
}

/* Values of all sorts of pieces: whatever the scanner lets through must come back from iniparser's
 * dictionary as it stands in the file. */
static void iniparser_agrees(void)
{
    static const char *const pieces[] = {"a",   "B ", "\"", "'",        ";",        " ;",   "#",
                                         " # ", "#a", "=",  " = ",      "[",        "]",    ":",
                                         ",",   "%n", "\t", " ",        "''",       "\"\"", "8",
                                         "1/2", "|",  "{}", "\xC3\xA8", "\xC2\xA0", "$"};
    enum { PIECES = sizeof pieces / sizeof pieces[0], RUNS = 20000, EACH = 40 };
    unsigned state = 20251;
    struct work work = fixture_work();
    int accepted = 0;

    for (int run = 0; run < RUNS / EACH; run++) {
        struct text text = text_create(work.arena);
        const struct ini *ini;

        text_add(&text, "[s]\n");
        for (int k = 0; k < EACH; k++) {
            text_addf(&text, "k%d = ", k);
            for (unsigned n = 1 + next_random(&state) % 6; n > 0; n--)
                text_add(&text, pieces[next_random(&state) % PIECES]);
            text_add(&text, "\n");
        }
        ini = read_text(&work, text.bytes);
        for (int k = 0; k < ini->nentries; k++) {
            accepted += ini->entries[k].value != NULL;
            CU_ASSERT(!ini->entries[k].value || stands_there(ini, &ini->entries[k]));
        }
        if (run % 50 == 49) {
            fixture_end(&work);
            work = fixture_work();
        }
    }
    CU_ASSERT_TRUE(accepted > RUNS / 10);
    fixture_end(&work);
}

extern CU_TestInfo tests_ini[];
CU_TestInfo tests_ini[] = {
    {"values are taken as written", values_taken},
    {"headings and keys are folded, names keep their letters", heads_and_keys},
    {"places count characters", places_in_a_value},
    {"a section given twice is one section", joined_sections},
    {"what could be read in two ways is refused at its place", values_refused},
    {"a line of 1000 bytes is read, of 1001 refused", lengths_refused},
    {"names that are too long", names_too_long},
    {"a file without end", too_many},
    {"iniparser never has another value", iniparser_agrees},
    CU_TEST_INFO_NULL};
