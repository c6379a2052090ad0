/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lines are knitted here stitch by stitch by an expansion of its own, so that nothing of
 * the program vouches for itself.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "csv.h"
#include "fixture_shaping.h"
#include "words/shaping.h"

extern CU_TestInfo tests_shaping[];

enum { PLACES = 4096, SMALL = 200 };

static struct work new_work(void)
{
    return (struct work){.arena = arena_create((size_t)1 << 30)};
}

/* --- a line knitted stitch by stitch ------------------------------------------------ */

struct knitted {
    int plain, made, together;
    int place[PLACES]; /* plain stitches before each shaping */
};

static const char *closing(const char *open)
{
    int depth = 0;

    for (const char *c = open;; c++) {
        depth += *c == '(';
        depth -= *c == ')';
        if (depth == 0)
            return c;
    }
}

static void knit(struct knitted *knitted, const char *from, const char *to)
{
    while (from < to) {
        if (*from == '(') {
            const char *close = closing(from);
            int times = strncmp(close, ") twice", 7) == 0 ? 2 : atoi(close + 2);

            for (int i = 0; i < times; i++)
                knit(knitted, from + 1, close);
            from = strchr(close, 'e') + 1; /* twicE, timEs */
            from += *from == 's';
        } else if (strncmp(from, "m1", 2) == 0) {
            knitted->place[knitted->made++ + knitted->together] = knitted->plain;
            from += 2;
        } else if (strncmp(from, "k2tog", 5) == 0) {
            knitted->place[knitted->made + knitted->together++] = knitted->plain;
            from += 5;
        } else if (*from == 'k') {
            knitted->plain += atoi(from + 1);
            from += 1 + strspn(from + 1, "0123456789");
        } else {
            from++; /* comma, space */
        }
    }
}

static struct knitted knit_line(const char *line)
{
    static struct knitted knitted;

    memset(&knitted, 0, sizeof knitted);
    knit(&knitted, line, line + strlen(line));
    return knitted;
}

static int stitches_used(const struct knitted *k)
{
    return k->plain + 2 * k->together;
}

static int stitches_left(const struct knitted *k)
{
    return k->plain + k->together + k->made;
}

/* --- published and hand-worked ------------------------------------------------------- */

static void test_lines_by_hand(void)
{
    struct work work = new_work();
    struct csv csv;
    int lines = 0;

    CU_ASSERT_TRUE_FATAL(csv_open(&csv, "tests/data/shaping_lines.csv"));
    while (csv_next(&csv)) {
        struct shaping shaping;
        bool round = strcmp(csv.field[2], "round") == 0;

        CU_ASSERT_EQUAL(
            shaping_spread(&work, atoi(csv.field[0]), atoi(csv.field[1]), round, &shaping), 0);
        CU_ASSERT_STRING_EQUAL(shaping.line, csv.field[3]);
        CU_ASSERT_STRING_EQUAL(shaping.sum, csv.field[4]);
        lines++;
    }
    CU_ASSERT_EQUAL(lines, 8);
    arena_destroy(work.arena);
}

/* How the sections of a line answer a printed example; -1 in the example: it does not say. */
static void check_sections(const struct knitted *k, char *const *field, bool round)
{
    int n = k->made, shorter = atoi(field[4]), longer = atoi(field[5]), nlonger = 0;
    double first = strtod(field[7], NULL);

    for (int i = 0; i < n; i++) {
        int section =
            i > 0 ? k->place[i] - k->place[i - 1] : k->place[0] + k->plain - k->place[n - 1];

        if (i == 0 && !round)
            continue;
        CU_ASSERT_TRUE(section == shorter || section == longer);
        nlonger += section == longer;
    }
    if (atoi(field[6]) >= 0)
        CU_ASSERT_EQUAL(nlonger, atoi(field[6]));
    if (first >= 0) {
        CU_ASSERT_TRUE(fabs(k->place[0] - first) <= 0.5);
        CU_ASSERT_TRUE(fabs(k->plain - k->place[n - 1] - first) <= 0.5);
    }
}

static void test_printed_examples(void)
{
    struct work work = new_work();
    struct csv csv;
    int lines = 0;

    CU_ASSERT_TRUE_FATAL(csv_open(&csv, "tests/data/evenly_spaced.csv"));
    while (csv_next(&csv)) {
        int start = atoi(csv.field[0]), end = atoi(csv.field[3]);
        bool round = strcmp(csv.field[2], "round") == 0;
        struct shaping shaping;
        struct knitted k;

        CU_ASSERT_EQUAL(shaping_spread(&work, start, end, round, &shaping), 0);
        k = knit_line(shaping.line);
        CU_ASSERT_EQUAL(k.made, atoi(csv.field[1]));
        CU_ASSERT_EQUAL(stitches_used(&k), start);
        CU_ASSERT_EQUAL(stitches_left(&k), end);
        check_sections(&k, csv.field, round);
        lines++;
    }
    CU_ASSERT_EQUAL(lines, 8);
    arena_destroy(work.arena);
}

/* --- every small count -------------------------------------------------------------- */

/* Place i of k: half a gap, then whole gaps, in stitches, to the nearest (a half goes up). */
static int half_gap_place(int plain, int k, int i)
{
    return (int)floor((2.0 * i + 1) * plain / (2.0 * k) + 0.5);
}

/* Counts of faults: adding up, and spacing. */
static int faults_of_line(const char *line, int from, int to, bool round)
{
    struct knitted k = knit_line(line);
    int n = k.made + k.together, used = 0, left = 0, faults = 0;
    int shortest = k.plain / n, longest = (k.plain + n - 1) / n;

    faults += stitches_used(&k) != from || stitches_left(&k) != to;
    faults += n != abs(to - from);
    faults += !shaping_read_back(line, &used, &left) || used != from || left != to;
    for (int i = 1; i < n; i++) {
        int gap = k.place[i] - k.place[i - 1];

        faults += gap < shortest || gap > longest;
    }
    for (int i = 0; i < n; i++)
        faults += abs(k.place[i] - half_gap_place(k.plain, n, i)) > (round ? 1 : 0);
    if (round) {
        int over_start = k.place[0] + k.plain - k.place[n - 1];

        faults += over_start < shortest || over_start > longest;
    }
    return faults;
}

/* Words nobody says. */
static int faults_of_speech(const char *line)
{
    return strstr(line, " 1 times") || strstr(line, " 2 times") || strstr(line, "k0") ||
           strstr(line, " once") || strstr(line, "()") || strstr(line, "((k2tog) twice) ");
}

/* Rounds set off by "; then ": each doubles or halves at most, each is evenly spread. */
static int faults_of_rounds(const struct shaping *shaping, bool round)
{
    int now = shaping->from, rounds = 0, faults = 0, used, left;
    char line[PLACES * 4];
    const char *rest = shaping->line;

    faults += !shaping_read_back(shaping->line, &used, &left);
    faults += used != shaping->from || left != shaping->to;
    while (rest) {
        const char *end = strstr(rest, "; then ");
        size_t length = end ? (size_t)(end - rest) : strlen(rest);
        struct knitted k;

        memcpy(line, rest, length);
        line[length] = '\0';
        k = knit_line(line);
        faults += stitches_left(&k) > 2 * now || 2 * stitches_left(&k) < now;
        faults += faults_of_line(line, now, stitches_left(&k), round);
        now = stitches_left(&k);
        rounds++;
        rest = end ? end + strlen("; then ") : NULL;
    }
    return faults + (now != shaping->to) + (rounds != shaping->rounds);
}

static void test_every_small_count(void)
{
    int faults = 0, lines = 0;

    for (int from = 1; from <= SMALL; from++) {
        struct work work = new_work();

        for (int to = 1; to <= SMALL; to++)
            for (int round = 0; round < 2; round++) {
                bool one = to <= 2 * from && 2 * to >= from;
                struct shaping shaping;
                int status = shaping_spread(&work, from, to, round, &shaping);

                if (from == to)
                    continue;
                lines++;
                faults += status != (one ? 0 : 1) || faults_of_speech(shaping.line) ||
                          faults_of_rounds(&shaping, round) != 0;
            }
        arena_destroy(work.arena);
    }
    CU_ASSERT_EQUAL(faults, 0);
    CU_ASSERT_EQUAL(lines, 2 * SMALL * (SMALL - 1));
}

/* --- fewest words ------------------------------------------------------------------- */

static int words_in(const char *line)
{
    int words = 1;

    for (; *line; line++)
        words += *line == ' ';
    return words;
}

/* Words of places worked as gap, m1, equal neighbours in brackets; for increases, so that no
 * gap is 0 but perhaps the first. */
static int words_of_places(const int *place, int k, int plain)
{
    int words = plain > place[k - 1], before = 0;

    for (int i = 0; i < k;) {
        int gap = place[i] - before, alike = 0;

        while (i < k && place[i] - before == gap) {
            before = place[i++];
            alike++;
        }
        words += (gap > 0) + 1 + (alike == 2 ? 1 : alike > 2 ? 2 : 0);
    }
    return words;
}

/* Least words over all ways allowed: every start for which each increase is within a stitch of
 * its half-gap place, whole or as a part (of two increases or more) repeated. */
static int least_words(int plain, int k, int times, bool round)
{
    int least = INT32_MAX;

    for (int phase = 0; phase < plain + k; phase++) {
        int place[SMALL], farthest = 0, words;

        for (int i = 0; i < k; i++) {
            int off = abs((i * plain + phase) / k - half_gap_place(plain, k, i));

            place[i] = (i * plain + phase) / k;
            farthest = off > farthest ? off : farthest;
        }
        if (farthest > (round ? 1 : 0))
            continue;
        words = words_of_places(place, k, plain) + (times == 2 ? 1 : times > 2 ? 2 : 0);
        least = words < least ? words : least;
    }
    return least;
}

static void test_fewest_words(void)
{
    struct work work = new_work();
    int faults = 0, compared = 0;

    for (int from = 1; from <= 72; from++)
        for (int k = 1; k <= from; k++)
            for (int round = 0; round < 2; round++) {
                int least = least_words(from, k, 1, round);
                int g = k;
                struct shaping shaping;

                while (from % g != 0 || k % g != 0)
                    g--;
                if (g > 1 && k / g > 1) {
                    int part = least_words(from / g, k / g, g, round);

                    least = part < least ? part : least;
                }
                shaping_spread(&work, from, from + k, round, &shaping);
                faults += words_in(shaping.line) != least;
                compared++;
            }
    CU_ASSERT_EQUAL(faults, 0);
    CU_ASSERT_EQUAL(compared, 72 * 73);
    arena_destroy(work.arena);
}

/* --- rounds, limits, reading back --------------------------------------------------- */

static void check_spread(int from, int to, bool round, int rounds, const char *line,
                         const char *sum)
{
    struct work work = new_work();
    struct shaping shaping;

    CU_ASSERT_EQUAL(shaping_spread(&work, from, to, round, &shaping), rounds > 1);
    CU_ASSERT_EQUAL(shaping.rounds, rounds);
    CU_ASSERT_STRING_EQUAL(shaping.line, line);
    CU_ASSERT_STRING_EQUAL(shaping.sum, sum);
    arena_destroy(work.arena);
}

/* By hand. */
static void test_several_rounds(void)
{
    check_spread(10, 50, true, 3,
                 "(k1, m1) 10 times; then (k1, m1) 20 times; then k2, m1, (k4, m1) 9 times, k2",
                 "10 + 10 + 20 + 10 = 50");
    /* 9 to 8 first: one k2tog, 7 plain, half of them before it. */
    check_spread(9, 2, false, 3, "k4, k2tog, k3; then (k2tog) 4 times; then (k2tog) twice",
                 "9 - 1 - 4 - 2 = 2");
    check_spread(72, 36, true, 1, "(k2tog) 36 times", "72 - 36 = 36");
    check_spread(72, 144, true, 1, "(k1, m1) 72 times", "72 + 72 = 144");
    /* In the round the gap of two may be worked whole; flat, half of it stays at each edge. */
    check_spread(72, 108, true, 1, "(k2, m1) 36 times", "72 + 36 = 108");
    check_spread(72, 108, false, 1, "k1, m1, (k2, m1) 35 times, k1", "72 + 36 = 108");
    /* Equally many words: half a gap at each end, not 9 and 11 for the sake of a letter. */
    check_spread(60, 63, true, 1, "k10, m1, (k20, m1) twice, k10", "60 + 3 = 63");
}

static void test_limits(void)
{
    struct work work = new_work();
    struct shaping shaping;
    int used, left;

    CU_ASSERT_EQUAL(shaping_spread(&work, 72, 72, true, &shaping), 0);
    CU_ASSERT_PTR_NULL(shaping.line);
    CU_ASSERT_EQUAL(shaping.rounds, 0);
    CU_ASSERT_EQUAL(shaping_spread(&work, 0, 72, true, &shaping), -1);
    CU_ASSERT_EQUAL(shaping_spread(&work, 72, -1, true, &shaping), -1);
    CU_ASSERT_EQUAL(shaping_spread(&work, 72, 1000001, true, &shaping), -1);
    CU_ASSERT_PTR_NULL(shaping.line);
    for (int round = 0; round < 2; round++) {
        static const int pairs[][2] = {{1000000, 618034}, {618034, 1000000}, {1, 1000000},
                                       {1000000, 1},      {999999, 500000},  {500001, 1000000}};

        for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
            CU_ASSERT_TRUE(shaping_spread(&work, pairs[i][0], pairs[i][1], round, &shaping) >= 0);
            CU_ASSERT_TRUE(shaping_read_back(shaping.line, &used, &left));
            CU_ASSERT_EQUAL(used, pairs[i][0]);
            CU_ASSERT_EQUAL(left, pairs[i][1]);
        }
    }
    arena_destroy(work.arena);
}

static void test_reading_back(void)
{
    static const char *const refused[] = {"",
                                          "k",
                                          "k0, m1",
                                          "k03, m1",
                                          "m2",
                                          "k3 m1",
                                          "k3,m1",
                                          "k3, ",
                                          "(k3, m1)",
                                          "(k3, m1) 1 times",
                                          "(k3, m1) 2 times",
                                          "(k3, m1) 3",
                                          "(k3, m1) 3 times)",
                                          "((k3, m1) 3 times",
                                          "k3, m1 ",
                                          "k3, yo",
                                          "k3; then k2",
                                          "(k9, m1) 999999999 times",
                                          "k99999999999",
                                          "(((((k1) 3 times) 3 times) 3 times) 3 times) 3 times"};
    int used, left;

    /* By hand: 4 x (2 + 2 x (1 + 2)) = 32 used, 4 x (2 + 2 x (1 + 1)) = 24 left. */
    CU_ASSERT_TRUE(shaping_read_back("(k2, (k1, k2tog) twice) 4 times", &used, &left));
    CU_ASSERT_EQUAL(used, 32);
    CU_ASSERT_EQUAL(left, 24);
    CU_ASSERT_TRUE(shaping_read_back("k3, m1; then (k1, m1) 4 times", &used, &left));
    CU_ASSERT_EQUAL(used, 3);
    CU_ASSERT_EQUAL(left, 8);
    CU_ASSERT_FALSE(shaping_read_back(NULL, &used, &left));
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++)
        CU_ASSERT_FALSE(shaping_read_back(refused[i], &used, &left));
}

CU_TestInfo tests_shaping[] = {
    {"lines worked by hand", test_lines_by_hand},
    {"examples in print", test_printed_examples},
    {"every count to 200 knitted stitch by stitch", test_every_small_count},
    {"fewest words against all ways", test_fewest_words},
    {"several rounds", test_several_rounds},
    {"limits", test_limits},
    {"reading back", test_reading_back},
    CU_TEST_INFO_NULL,
};
