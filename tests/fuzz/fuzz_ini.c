/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The scanner of project files: every entry's place is a place of the file.
 */
#include "base/diag.h"
#include "base/source.h"
#include "fuzz.h"
#include "read/ini/ini.h"
#include "read/project/project.h"

static void body(struct work *work, const uint8_t *data, size_t size)
{
    struct place nowhere = {0};
    const char *path = fuzz_file("project.ini", data, size);
    const struct source *source = source_read(work, path, SOURCE_TEXT, PROJECT_BYTES_MAX, nowhere);
    const struct ini *ini = source ? ini_read(work, source) : NULL;

    if (!ini)
        return;
    for (int i = 0; i < ini->nentries; i++) {
        const struct ini_entry *entry = &ini->entries[i];

        FUZZ_HOLDS(entry->section >= 0 && entry->section < ini->nsections);
        FUZZ_HOLDS(entry->at.line >= 1 && entry->at.line <= source->nlines);
        FUZZ_HOLDS(entry->key_at.column >= 1 && entry->at.column >= 1);
        FUZZ_HOLDS(entry->value || diagnostics_fatal(work->diagnostics));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_run(body, data, size);
    return 0;
}
