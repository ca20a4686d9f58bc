package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The command {@code density}, held against the check tables of weight per gallon and specific
 * gravity (computed apart from this program from Laliberte 2009 and Tanaka 2001).
 */
final class DensityCommandTest {

    private static CommandLineRun run(String... arguments) {
        List<String> line = new ArrayList<>(List.of("density"));
        line.addAll(Arrays.asList(arguments));
        return CommandLineRun.of(line.toArray(String[]::new));
    }

    private static JsonNode json(String... arguments) throws IOException {
        List<String> line = new ArrayList<>(Arrays.asList(arguments));
        line.add("--json");
        CommandLineRun run = run(line.toArray(String[]::new));
        assertEquals("", run.errors());
        assertEquals(0, run.code());
        assertEquals(1, run.output().lines().count(), "one object, on one line");
        return new ObjectMapper().readTree(run.output());
    }

    private static double number(JsonNode json, String key) {
        assertTrue(json.get(key).isNumber(), key + " in " + json);
        return json.get(key).doubleValue();
    }

    @Test
    void rockSaltBrineAsAnObject() throws IOException {
        JsonNode json = json("--liquid", "nacl", "--mass-fraction", "0.233", "--celsius", "10");
        assertEquals(1179.95, number(json, "density_kg_per_m3"), 0.0051);
        assertEquals(1179.95 * 0.0006, number(json, "expanded_uncertainty_kg_per_m3"), 0.001);
        assertEquals(9.847, number(json, "weight_lb_per_us_gal"), 0.00051);
        // By hand: 9.84718 (1 - 1.2 / 1179.95) / (1 - 1.2 / 8000).
        assertEquals(9.83864, number(json, "weight_in_air_lb_per_us_gal"), 1e-5);
        assertEquals(1.1782, number(json, "specific_gravity_60_60_f"), 0.51e-4);
        assertEquals(-21.1, number(json, "freezing_point_celsius"), 0.05);
        assertEquals(-5.98, number(json, "freezing_point_fahrenheit"), 0.05);
        assertEquals(50, number(json, "fahrenheit"));
        assertEquals(0, json.get("warnings").size());
        assertEquals(0, json.get("marks").size());
    }

    @Test
    void fahrenheitGivesTheSame() {
        CommandLineRun celsius =
                run("--liquid", "nacl", "--mass-fraction", "0.233", "--celsius", "10");
        assertEquals(
                celsius, run("--liquid", "nacl", "--mass-fraction", "0.233", "--fahrenheit", "50"));
        assertTrue(celsius.output().contains("1179.95 +- 0.71 kg/m3 (k=2)"), celsius.output());
        assertTrue(celsius.output().contains("taken as exact"), celsius.output());
        assertTrue(celsius.output().lines().allMatch(row -> row.length() <= 79), celsius.output());
    }

    @Test
    void uncertaintiesOfStrengthAndTemperatureCount() throws IOException {
        JsonNode json =
                json(
                        "--liquid",
                        "nacl",
                        "--mass-fraction",
                        "0.233",
                        "--celsius",
                        "10",
                        "--mass-fraction-uncertainty",
                        "0.01",
                        "--celsius-uncertainty",
                        "10");
        // The check table's sizes of the effects, 0.70 % and 0.45 %, with the model's 0.06 %.
        assertEquals(
                1179.95 * Math.sqrt(0.0070 * 0.0070 + 0.0045 * 0.0045 + 0.0006 * 0.0006),
                number(json, "expanded_uncertainty_kg_per_m3"),
                0.25);
        assertEquals(3, json.get("uncertainty_terms").size());
    }

    @Test
    void beyondTheEutecticNoFreezingPointIsGiven() throws IOException {
        JsonNode json = json("--liquid", "mgcl2", "--mass-fraction", "0.30", "--celsius", "20");
        assertTrue(json.get("freezing_point_celsius").isNull());
        assertEquals(0.216, number(json, "eutectic_mass_fraction"));
        assertTrue(json.get("warnings").get(0).textValue().contains("eutectic"));
    }

    @Test
    void belowTheFittedTemperatureIsMarked() throws IOException {
        JsonNode json = json("--liquid", "cacl2", "--mass-fraction", "0.28", "--celsius", "0");
        assertEquals("below fitted temperature", json.get("marks").get(0).textValue());
        assertEquals(1268.45 * 0.0045, number(json, "expanded_uncertainty_kg_per_m3"), 0.001);
    }

    @Test
    void aMeasuredSampleBeatsTheBook() throws IOException {
        JsonNode hydrometer =
                json(
                        "--liquid",
                        "nacl",
                        "--specific-gravity",
                        "1.1782",
                        "--reference",
                        "60/60F",
                        "--celsius",
                        "0");
        assertEquals(1184.98, number(hydrometer, "density_kg_per_m3"), 0.02);
        assertEquals(1.1782, number(hydrometer, "specific_gravity_60_60_f"), 1e-5);
        JsonNode salometer =
                json("--liquid", "nacl", "--salometer", "88.2743", "--fahrenheit", "60");
        assertEquals(1177.02, number(salometer, "density_kg_per_m3"), 0.01);
        // 500 lb of 1179.9525 kg/m3 are 50.820022 US gal: worked row of the buoyancy table.
        JsonNode weighed =
                json(
                        "--liquid",
                        "blend",
                        "--weighed-lb",
                        "500",
                        "--us-gal",
                        "50.820022",
                        "--sample-celsius",
                        "10",
                        "--celsius",
                        "10");
        assertEquals(1179.9525, number(weighed, "density_kg_per_m3"), 1e-4);
        JsonNode moved =
                json(
                        "--liquid",
                        "blend",
                        "--measured-kg-per-m3",
                        "1300",
                        "--sample-celsius",
                        "20",
                        "--celsius",
                        "0",
                        "--slope",
                        "-0.5");
        assertEquals(1310, number(moved, "density_kg_per_m3"), 1e-9);
        assertTrue(moved.get("mass_fraction").isNull());
    }

    @Test
    void theColdOfTheBayIsWarnedOf() {
        CommandLineRun run =
                run(
                        "--liquid",
                        "nacl",
                        "--mass-fraction",
                        "0.10",
                        "--celsius",
                        "10",
                        "--coldest-celsius",
                        "-8");
        assertEquals(0, run.code());
        assertTrue(
                run.output().contains("Warning: 10 % sodium chloride brine freezes in the bay"),
                run.output());
    }

    @Test
    void theTableAgreesWithTheCheckTable() throws IOException {
        JsonNode rows = json("--liquid", "mgcl2", "--table").get("rows");
        int found = 0;
        for (JsonNode row : rows) {
            if (number(row, "mass_fraction") == 0.28) {
                switch (row.get("fahrenheit").intValue()) {
                    case 32 -> assertEquals(10.508, number(row, "weight_lb_per_us_gal"), 0.00051);
                    case 50 -> assertEquals(10.493, number(row, "weight_lb_per_us_gal"), 0.00051);
                    case 60 -> {
                        assertEquals(10.480, number(row, "weight_lb_per_us_gal"), 0.00051);
                        assertEquals(1.2570, number(row, "hydrometer_60_60_f"), 0.51e-4);
                    }
                    default -> found--;
                }
                found++;
            }
        }
        assertEquals(3, found);
        CommandLineRun printed = run("--liquid", "mgcl2", "--table");
        assertEquals(0, printed.code());
        assertTrue(printed.output().contains("10.508 "), "the same weight on paper: 28 % at 32 F");
        assertTrue(printed.output().contains("     - "), "what is not liquid is left open");
        assertTrue(printed.output().lines().allMatch(row -> row.length() <= 79), printed.output());
        assertEquals(3, printed.output().lines().filter(row -> row.contains("50   10.0")).count());
        for (String liquid : List.of("water", "nacl", "cacl2", "potassium-acetate")) {
            assertEquals(0, run("--liquid", liquid, "--table").code());
        }
    }

    @ParameterizedTest(name = "{0}")
    @CsvFileSource(resources = "bad-densities.txt", delimiter = '|', quoteCharacter = '`')
    void whatCannotBeIsSaidInASentence(String arguments, String refusal) {
        CommandLineRun run = run(arguments.split(" "));
        assertEquals(Exit.USAGE, run.code(), run.output());
        assertEquals("", run.output());
        assertEquals(1, run.errors().lines().count(), run.errors());
        assertTrue(run.errors().startsWith("catchbay: "), run.errors());
        assertTrue(run.errors().contains(refusal), run.errors());
    }
}
