/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * For tests of what may fail, allocate or speak: a work with nothing in it yet.
 */
#ifndef STRANDWISE_FIXTURE_WORK_H
#define STRANDWISE_FIXTURE_WORK_H

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/disk.h"
#include "base/arena.h"
#include "base/diag.h"
#include "base/text.h"
#include "base/work.h"

static inline struct work fixture_work(void)
{
    struct work work = {.arena = arena_create((size_t)256 << 20), .outside = &disk};

    if (!work.arena)
        abort();
    work.diagnostics = diagnostics_create(work.arena);
    return work;
}

static inline void fixture_end(struct work *work)
{
    arena_destroy(work->arena);
}

/* All that diagnostics_say() says. */
static inline const char *fixture_printed(struct work *work, bool colour)
{
    struct text text = text_create(work->arena);

    diagnostics_say(work->diagnostics, colour, &text);
    return text.bytes;
}

/* The number-th message in order, from 0; one with an empty `what` if there are not so many. */
static inline struct diag fixture_diag(struct work *work, int number)
{
    int count;
    const struct diag *sorted = diagnostics_sorted(work->diagnostics, &count);

    return number < count ? sorted[number] : (struct diag){DIAG_CODE_COUNT, {0}, "", NULL};
}

#endif
