/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Run while building: embed tables/NAME.csv ... prints a C file with the text of each.
 *
 * Bytes rather than string literals, because C promises only 4095 characters in one.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* "needles" of "tables/needles.csv", or NULL where the file is not called like a table. */
static char *table_name(const char *path)
{
    const char *base = strrchr(path, '/') ? strrchr(path, '/') + 1 : path;
    size_t length = strspn(base, "abcdefghijklmnopqrstuvwxyz_");
    char *name;

    if (length == 0 || strcmp(base + length, ".csv") != 0)
        return NULL;
    name = malloc(length + 1);
    if (name) {
        memcpy(name, base, length);
        name[length] = '\0';
    }
    return name;
}

static int print_bytes(const char *path, const char *name)
{
    FILE *in = fopen(path, "rb");
    int byte, count = 0, failed;

    if (!in)
        return -1;
    printf("static const unsigned char text_%s[] = {\n", name);
    while ((byte = getc(in)) != EOF) {
        if (byte == 0) {
            fclose(in);
            return -1;
        }
        printf("%d,%s", byte, ++count % 24 == 0 ? "\n" : "");
    }
    printf("0};\n");
    failed = ferror(in);
    fclose(in);
    return failed ? -1 : 0;
}

int main(int argc, char **argv)
{
    puts("/* Made by embed; the tables are in tables/. */\n#include \"base/tables_text.h\"\n");
    for (int i = 1; i < argc; i++) {
        char *name = table_name(argv[i]);

        if (!name || print_bytes(argv[i], name) < 0) {
            fprintf(stderr, "embed: %s: cannot be read, or is not called like a table\n", argv[i]);
            return 1;
        }
        free(name);
    }
    puts("\nconst struct table_text tables_text[] = {");
    for (int i = 1; i < argc; i++) {
        char *name = table_name(argv[i]);

        if (!name)
            return 1;
        printf("    {\"%s\", \"tables/%s.csv\", text_%s},\n", name, name, name);
        free(name);
    }
    printf("};\nconst int tables_text_count = %d;\n", argc - 1);
    return fflush(stdout) == 0 && !ferror(stdout) ? 0 : 1;
}
