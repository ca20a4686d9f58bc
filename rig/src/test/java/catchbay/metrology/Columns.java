package catchbay.metrology;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** A data file of numbers beside the tests: its comments name the source, its columns are named. */
final class Columns {

    private final List<String> names;
    private final List<String[]> rows;

    private Columns(List<String> names, List<String[]> rows) {
        this.names = names;
        this.rows = rows;
    }

    static Columns of(String file) {
        try (InputStream in = Columns.class.getResourceAsStream(file)) {
            List<String> lines =
                    new String(in.readAllBytes(), StandardCharsets.UTF_8)
                            .lines()
                            .filter(line -> !line.startsWith("#"))
                            .toList();
            return new Columns(
                    List.of(lines.getFirst().split(",")),
                    lines.stream().skip(1).map(line -> line.split(",")).toList());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    double[] column(String name) {
        int index = names.indexOf(name);
        return rows.stream().mapToDouble(row -> Double.parseDouble(row[index])).toArray();
    }
}
