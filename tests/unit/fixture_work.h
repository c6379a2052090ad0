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

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"

static inline struct work fixture_work(void)
{
    struct work work = {arena_create((size_t)256 << 20), NULL, NULL, NULL};

    if (!work.arena)
        abort();
    work.diagnostics = diagnostics_create(work.arena);
    return work;
}

static inline void fixture_end(struct work *work)
{
    arena_destroy(work->arena);
}

/* All that diagnostics_print() prints. */
static inline const char *fixture_printed(struct work *work, bool colour)
{
    FILE *file = tmpfile();
    char *bytes;
    long length;

    if (!file)
        abort();
    diagnostics_print(work->diagnostics, file, colour);
    length = ftell(file);
    rewind(file);
    bytes = arena_alloc(work->arena, (size_t)length + 1, 1);
    if (fread(bytes, 1, (size_t)length, file) != (size_t)length)
        abort();
    fclose(file);
    return bytes;
}

/* The number-th message in order, from 0; one with an empty `what` if there are not so many. */
static inline struct diag fixture_diag(struct work *work, int number)
{
    int count;
    const struct diag *sorted = diagnostics_sorted(work->diagnostics, &count);

    return number < count ? sorted[number] : (struct diag){DIAG_CODE_COUNT, {0}, "", NULL};
}

#endif
