/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A shaping line read back: what it uses and what it leaves. As strict as the lines are.
 */
#include <limits.h>
#include <stdint.h>
#include <string.h>

#include "fixture_shaping.h"

/* Our lines have at most three brackets within one another; more would only cost stack. */
enum { DEPTH_MOST = 4 };

struct yield {
    int64_t used, left;
};

static bool take(const char **at, const char *word)
{
    size_t length = strlen(word);

    if (strncmp(*at, word, length) != 0)
        return false;
    *at += length;
    return true;
}

/* A whole number, 1 to INT_MAX, without a nought before it. */
static bool take_number(const char **at, int64_t *number)
{
    int64_t value = 0;

    if (**at < '1' || **at > '9')
        return false;
    for (; **at >= '0' && **at <= '9'; (*at)++) {
        value = value * 10 + (**at - '0');
        if (value > INT_MAX)
            return false;
    }
    *number = value;
    return true;
}

static bool take_times(const char **at, int64_t *times)
{
    *times = 2;
    if (take(at, " twice"))
        return true;
    return take(at, " ") && take_number(at, times) && *times > 2 && take(at, " times");
}

static bool take_list(const char **at, int depth, struct yield *yield);

static bool take_item(const char **at, int depth, struct yield *yield)
{
    int64_t times;

    if (take(at, "(")) {
        if (depth == DEPTH_MOST || !take_list(at, depth + 1, yield) || !take(at, ")") ||
            !take_times(at, &times))
            return false;
        yield->used *= times;
        yield->left *= times;
        return yield->used <= INT_MAX && yield->left <= INT_MAX;
    }
    *yield = (struct yield){0, 1};
    if (take(at, "m1"))
        return true;
    yield->used = 2;
    if (take(at, "k2tog"))
        return true;
    if (!take(at, "k") || !take_number(at, &yield->used))
        return false;
    yield->left = yield->used;
    return true;
}

static bool take_list(const char **at, int depth, struct yield *yield)
{
    *yield = (struct yield){0, 0};
    do {
        struct yield item;

        if (!take_item(at, depth, &item))
            return false;
        yield->used += item.used;
        yield->left += item.left;
        if (yield->used > INT_MAX || yield->left > INT_MAX)
            return false;
    } while (take(at, ", "));
    return true;
}

bool shaping_read_back(const char *line, int *used, int *left)
{
    struct yield first, round;

    if (!line || !take_list(&line, 0, &first))
        return false;
    round = first;
    while (take(&line, "; then ")) {
        int64_t before = round.left;

        if (!take_list(&line, 0, &round) || round.used != before)
            return false;
    }
    if (*line)
        return false;
    *used = (int)first.used;
    *left = (int)round.left;
    return true;
}
