/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Writes a project and its chart of any size, for the benchmark:
 *   make_chart FOLDER KIND ROUND-OR-FLAT COLUMNS ROWS REPEATS
 * KIND: blobs (large shapes, long floats), geometric (a small diamond over and over), noise (no
 * two stitches related). The same words always give the same chart.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* SplitMix64. Source: Steele, Lea & Flood 2014, "Fast splittable pseudorandom number generators".
 */
static uint64_t mix(uint64_t x)
{
    x += 0x9E3779B97F4A7C15u;
    x = (x ^ x >> 30) * 0xBF58476D1CE4E5B9u;
    x = (x ^ x >> 27) * 0x94D049BB133111EBu;
    return x ^ x >> 31;
}

static int is_blob(long row, long column)
{
    enum { TILE = 23 }; /* one round shape a tile, each of its own size and place */
    long tile_row = row / TILE, tile_column = column / TILE;
    uint64_t seed = mix((uint64_t)(tile_row * 1000003 + tile_column));
    long middle_row = tile_row * TILE + 6 + (long)(seed % 11);
    long middle_column = tile_column * TILE + 6 + (long)(seed / 11 % 11);
    long radius = 3 + (long)(seed / 121 % 8);
    long up = row - middle_row, across = column - middle_column;

    return up * up + across * across <= radius * radius;
}

static int is_diamond(long row, long column)
{
    enum { SIDE = 12 };

    return (labs(row % SIDE - SIDE / 2) + labs(column % SIDE - SIDE / 2)) % 4 < 2;
}

static int is_noise(long row, long column)
{
    return mix((uint64_t)(row * 65537 + column)) % 5 < 2;
}

static int (*kind_of(const char *word))(long, long)
{
    if (strcmp(word, "blobs") == 0)
        return is_blob;
    if (strcmp(word, "geometric") == 0)
        return is_diamond;
    return strcmp(word, "noise") == 0 ? is_noise : NULL;
}

static FILE *open_in(const char *folder, const char *name)
{
    char path[4096];

    snprintf(path, sizeof path, "%s/%s", folder, name);
    return fopen(path, "w");
}

static int write_project(const char *folder, const char *worked, const char *repeats)
{
    FILE *file = open_in(folder, "bench.ini");

    if (!file)
        return 1;
    fprintf(
        file,
        "; Made by tests/bench/make_chart.c. Invented.\n"
        "[project]\nworked = %s\n"
        "[swatch]\nworked = %s\nwashed = yes\nover = 4 in\nstitches = 28, 28 1/2\nrows = 34, 34\n"
        "[cast-on]\nyarn = cream\n"
        "[band bench]\nchart = bench.chart\nrepeats = %s\n"
        "[yarn cream]\nmark = .\nball = 50 g, 210 m\n"
        "[yarn slate]\nmark = x\nball = 50 g, 210 m\n",
        worked, worked, repeats);
    return fclose(file) != 0;
}

static int write_chart(const char *folder, int (*in)(long, long), long columns, long rows)
{
    FILE *file = open_in(folder, "bench.chart");
    char *line = malloc((size_t)columns + 2);

    if (!file || !line)
        return 1;
    line[columns] = '\n';
    line[columns + 1] = '\0';
    for (long row = rows - 1; row >= 0; row--) {
        for (long column = 0; column < columns; column++)
            line[columns - 1 - column] = in(row, column) ? 'x' : '.';
        fputs(line, file);
    }
    free(line);
    return fclose(file) != 0;
}

int main(int argc, char **argv)
{
    int (*in)(long, long) = argc == 7 ? kind_of(argv[2]) : NULL;
    long columns = argc == 7 ? strtol(argv[4], NULL, 10) : 0;
    long rows = argc == 7 ? strtol(argv[5], NULL, 10) : 0;

    if (!in || columns < 1 || columns > 5000 || rows < 1 || rows > 5000) {
        fputs("make_chart FOLDER blobs|geometric|noise round|flat COLUMNS ROWS REPEATS\n", stderr);
        return 2;
    }
    mkdir(argv[1], 0777);
    return write_project(argv[1], argv[3], argv[6]) || write_chart(argv[1], in, columns, rows);
}
