package catchbay.metrology;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Melinder's brine tables (2010) from {@code melinder-coefficients.csv}, evaluated here alone. */
final class Melinder {

    private static final double KELVIN = 273.15;
    private static final int TERMS = 6;

    /** One row: solute, kind, power of the temperature, six coefficients, bases, ranges. */
    private record Row(String solute, String kind, double[] numbers) {
        double base() {
            return numbers[8];
        }

        double polynomial(double w) {
            double sum = 0;
            for (int j = TERMS; j >= 1; j--) {
                sum = sum * (w - base()) + numbers[j];
            }
            return sum;
        }
    }

    private final List<Row> rows;

    private Melinder(List<Row> rows) {
        this.rows = rows;
    }

    static Melinder of(Brine brine) {
        String solute =
                switch (brine) {
                    case NACL -> "NaCl";
                    case CACL2 -> "CaCl2";
                    case MGCL2 -> "MgCl2";
                    case POTASSIUM_ACETATE -> "KAc";
                };
        return new Melinder(read().stream().filter(row -> row.solute.equals(solute)).toList());
    }

    double density(double w, double celsius) {
        return rows.stream()
                .filter(row -> row.kind.equals("rho"))
                .mapToDouble(row ->
                        row.polynomial(w)
                                * Math.pow(celsius + KELVIN - row.numbers[7], row.numbers[0]))
                .sum();
    }

    double freezing(double w) {
        Row row = rows.stream().filter(r -> r.kind.equals("Tfreeze")).findFirst().orElseThrow();
        return Math.exp(row.polynomial(w)) - KELVIN;
    }

    double weakest() {
        return rows.getFirst().numbers[9];
    }

    double strongest() {
        return rows.getFirst().numbers[10];
    }

    private static List<Row> read() {
        List<Row> rows = new ArrayList<>();
        try (BufferedReader lines =
                new BufferedReader(
                        new InputStreamReader(
                                Melinder.class.getResourceAsStream("melinder-coefficients.csv"),
                                StandardCharsets.UTF_8))) {
            for (String line : lines.lines().toList()) {
                if (!line.startsWith("#") && !line.startsWith("solute")) {
                    String[] cells = line.split(",");
                    rows.add(
                            new Row(
                                    cells[0],
                                    cells[1],
                                    Arrays.stream(cells)
                                            .skip(2)
                                            .mapToDouble(Double::parseDouble)
                                            .toArray()));
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return rows;
    }
}
