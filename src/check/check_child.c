/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A size that only a child wears, in a project that does not say so.
 */
#include <string.h>

#include "base/arena.h"
#include "base/tables.h"
#include "base/work.h"
#include "check_parts.h"

/* Judgement: from fourteen on a hand is as large as a grown one. */
enum { CHILD_AGE_MOST = 13, WORD_MAX = 24 };

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* The next word or number of the name, in small letters; "": none. */
static const char *next_word(const char *at, char word[WORD_MAX])
{
    size_t n = 0;

    while (*at && !is_letter(*at) && !is_digit(*at))
        at++;
    for (bool digits = is_digit(*at); *at && (digits ? is_digit(*at) : is_letter(*at)); at++)
        if (n + 1 < WORD_MAX)
            word[n++] = *at >= 'A' && *at <= 'Z' ? (char)(*at - 'A' + 'a') : *at;
    word[n] = '\0';
    return at;
}

static bool is_one_of(const char *word, const char *const *words)
{
    for (; *words; words++)
        if (strcmp(word, *words) == 0)
            return true;
    return false;
}

static int number_of(const char *word)
{
    int number = 0;

    for (; is_digit(*word) && number < 1000; word++)
        number = 10 * number + *word - '0';
    return number;
}

/* "toddler", "age 4", "6 years", "18 months"; an age over CHILD_AGE_MOST is none. */
static bool is_childs(const char *name)
{
    static const char *const children[] = {"child",  "children", "childs", "kid",     "kids",   "toddler",
                                           "toddlers", "baby",   "babies", "infant",  "newborn",
                                           "preemie", "boy",    "girl",    "months", "month", NULL};
    static const char *const ages[] = {"age", "aged", "ages", "year", "years", "yr", "yrs", NULL};
    char word[WORD_MAX];
    int number = -1;
    bool age = false;

    for (name = next_word(name, word); *word; name = next_word(name, word)) {
        if (is_one_of(word, children))
            return true;
        age = age || is_one_of(word, ages);
        if (is_digit(*word) && number < 0)
            number = number_of(word);
    }
    return age && number >= 0 && number <= CHILD_AGE_MOST;
}

/* A limit as short as a child's. */
static bool is_short(struct work *work, const struct given_length *limit)
{
    return rational_is_value(limit->in) &&
           rational_double(limit->in) <= tables_value(work->tables, "float_limit_child_in");
}

void check_child(struct work *work, const struct project *project)
{
    const struct given_sizes *sizes = &project->sizes;

    if (sizes->count == 0 || project->child.said || is_short(work, &project->leave_up_to) ||
        is_short(work, &project->catch_at))
        return;
    for (int i = 0; i < sizes->count; i++) {
        if (!is_childs(sizes->name[i]))
            continue;
        diag_add(work->diagnostics, DIAG_CHILD_UNSAID, sizes->at,
                 arena_printf(work->arena,
                              "The size %s sounds like a child's, and all sizes share one float limit, "
                              "that of grown people.",
                              sizes->name[i]),
                 "Write [wearer] and below it child = yes: small fingers and toes catch in long strands. "
                 "The shorter limit then holds for all sizes; or plan the children's in a project of their "
                 "own. With child = no nothing is said.");
        return;
    }
}
