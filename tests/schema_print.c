/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * schema_print plan|redraw   prints the schema of that JSON, as docs/plan.schema.json or docs/redraw.schema.json
 * has it.
 */
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "render/draw/redraw.h"
#include "render/render.h"

int main(int argc, char **argv)
{
    struct arena *arena = arena_create(1 << 24);
    struct text out = text_create(arena);

    if (argc == 2 && strcmp(argv[1], "plan") == 0)
        render_json_schema(&out);
    else if (argc == 2 && strcmp(argv[1], "redraw") == 0)
        render_redraw_json_schema(&out);
    fwrite(out.bytes, 1, out.length, stdout);
    arena_destroy(arena);
    return ferror(stdout) || fflush(stdout);
}
