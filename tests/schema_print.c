/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Prints the schema of the plan's JSON, as docs/plan.schema.json has it.
 */
#include <stdio.h>

#include "base/arena.h"
#include "render/render.h"

int main(void)
{
    struct arena *arena = arena_create(1 << 24);
    struct text out = text_create(arena);

    render_json_schema(&out);
    fwrite(out.bytes, 1, out.length, stdout);
    arena_destroy(arena);
    return ferror(stdout) || fflush(stdout);
}
