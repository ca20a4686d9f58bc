package catchbay.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.LiquidDensity;
import catchbay.metrology.LiquidDensity.Part;
import catchbay.run.RunSetup;

import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** The section {@code liquid}: what is said of a liquid, and what is written down of it. */
final class LiquidTextTest {

    private static final ObjectMapper JSON = new ObjectMapper();

    private static final String SETUP =
            """
            {"bay":{"day":"2026-01-15"},
             "scale":{"serial":"S-1","date":"2025-11-03","expiry":"2026-11-02","unit":"lb",
               "resolution_lb":0.1,"capacity_lb":2000},
             "liquid":{LIQUID},
             "truck":{"asset":"T-12","constant_pulses_per_us_gal":600},
             "asked":{"rate_us_gal_per_lane_mile":15,"lanes":1,"speed_mph":20},
             "catch":{"seconds":90}}\
            """;

    private static RunSetup setup(String json) {
        try {
            Fields fields = Fields.of(JSON.readTree(json), path -> "bay.toml");
            RunSetup setup = SetupText.read(fields, Optional.empty());
            fields.finish();
            return setup;
        } catch (IOException unreadable) {
            throw new AssertionError(unreadable);
        }
    }

    private static RunSetup.Liquid liquid(String keys) {
        return setup(SETUP.replace("LIQUID", keys)).liquid();
    }

    private static double kilograms(RunSetup.Liquid liquid) {
        return liquid.density().kilogramsPerCubicMetre();
    }

    /** 1179.95 kg/m3: the check table of Laliberte's model, NaCl 23.3 % at 10 degrees. */
    @Test
    void aKnownBrineByItsStrength() {
        RunSetup.Liquid liquid =
                liquid("\"kind\":\"nacl\",\"strength_percent\":23.3,\"temperature_fahrenheit\":50");
        assertEquals(1179.95, kilograms(liquid), 0.0051);
        assertEquals("sodium chloride brine", liquid.name());
        LiquidDensity basis = liquid.basis().orElseThrow();
        assertEquals(10, basis.temperature().celsius(), 1e-12);
        assertEquals(basis.relativeExpanded(), liquid.densityRelativeUncertainty());
        // The usual 0.5 % of strength is 0.35 % of density, and 1 degree 0.045 %.
        assertEquals(0.0035 * 1180 / 2, basis.standardKilogramsPerCubicMetre(Part.STRENGTH), 0.03);
        assertEquals(
                0.00045 * 1180 / 2, basis.standardKilogramsPerCubicMetre(Part.TEMPERATURE), 0.02);
    }

    /** By hand: specific gravity 1.1782 (60/60 F) is 1177.04 kg/m3 at 60 F. */
    @Test
    void aHydrometerOfASample() {
        RunSetup.Liquid liquid =
                liquid(
                        "\"name\":\"tank 3\",\"kind\":\"nacl\",\"temperature_celsius\":10,"
                            + "\"sample\":{\"specific_gravity\":1.1782,\"reference\":\"60/60F\"}");
        assertEquals(1179.97, kilograms(liquid), 0.02);
        assertEquals("tank 3", liquid.name());
        String words = liquid.basis().orElseThrow().basis();
        assertTrue(words.contains("sample at 15.6 C (60.0 F)"), words);
    }

    @Test
    void everyOtherReading() {
        String nacl = "\"kind\":\"nacl\",\"temperature_fahrenheit\":60,\"sample\":";
        assertEquals(1177.02, kilograms(liquid(nacl + "{\"salometer_degrees\":88.2743}")), 0.01);
        String blend = "\"kind\":\"blend\",\"temperature_celsius\":12,\"sample\":";
        assertEquals(
                1321.5,
                kilograms(
                        liquid(
                                blend
                                        + "{\"temperature_celsius\":12,\"density_kg_per_m3\":1321.5}")),
                1e-9);
        // Worked row of the buoyancy table: 500 lb of 1179.9525 kg/m3 are 50.820022 US gal.
        assertEquals(
                1179.9525,
                kilograms(
                        liquid(
                                blend
                                        + "{\"temperature_celsius\":12,\"weight_lb\":500,"
                                        + "\"volume_us_gal\":50.820022}")),
                1e-4);
        assertEquals(
                1326.5,
                kilograms(
                        liquid(
                                "\"slope_kg_per_m3_per_celsius\":-0.5,"
                                        + blend
                                        + "{\"temperature_celsius\":22,\"density_kg_per_m3\":1321.5}")),
                1e-9);
        assertEquals(
                999.7027,
                kilograms(liquid("\"kind\":\"water\",\"temperature_celsius\":10")),
                0.5e-4);
    }

    /** Read back, the density is the one written, without any coefficient being asked again. */
    @Test
    void whatWasFoundIsWrittenDownWithHow() throws IOException {
        RunSetup found =
                setup(
                        SETUP.replace(
                                "LIQUID",
                                "\"kind\":\"cacl2\",\"strength_ratio\":0.31,"
                                        + "\"temperature_celsius\":5"));
        var written = SetupText.write(found);
        var liquid = written.get("liquid");
        assertFalse(liquid.has("kind"));
        assertEquals(5, liquid.get("basis").get("temperature_celsius").doubleValue());
        assertTrue(
                liquid.get("basis")
                        .get("words")
                        .textValue()
                        .startsWith("computed for 31 % calcium chloride brine at 5.0 C"));
        assertEquals(
                "[\"below-fitted-temperature\",\"outside-checked-strengths\"]",
                liquid.get("basis").get("marks").toString());
        assertTrue(liquid.get("basis").get("warnings").get(0).textValue().contains("eutectic"));
        assertEquals(found, setup(JSON.writeValueAsString(written)));
    }

    /** An old setup says nothing of a basis, and none is written for it. */
    @Test
    void aTypedDensityStaysWhatItWas() {
        RunSetup typed = setup(SETUP.replace("LIQUID", "\"density_lb_per_us_gal\":9.8"));
        assertEquals(Optional.empty(), typed.liquid().basis());
        var keys = SetupText.write(typed).get("liquid").properties().stream();
        assertEquals(
                List.of(
                        "name",
                        "density_kg_per_m3",
                        "density_uncertainty_ratio",
                        "air_density_kg_per_m3"),
                keys.map(java.util.Map.Entry::getKey).toList());
    }

    @Test
    void aBasisOfAnotherDensityIsRefused() throws IOException {
        String written =
                JSON.writeValueAsString(
                        SetupText.write(
                                setup(
                                        SETUP.replace(
                                                "LIQUID",
                                                "\"kind\":\"water\","
                                                        + "\"temperature_celsius\":10"))));
        String altered =
                written.replaceFirst(
                        "\"density_uncertainty_ratio\":[^,]*", "\"density_uncertainty_ratio\":0.1");
        String refusal = assertThrows(DocumentException.class, () -> setup(altered)).getMessage();
        assertTrue(refusal.contains("is not the one that its basis tells of"), refusal);
    }

    @ParameterizedTest(name = "{0}")
    @CsvFileSource(resources = "bad-liquids.txt", delimiter = '|', quoteCharacter = '\'')
    void whatCannotBeIsSaid(String keys, String refusal) {
        String said = assertThrows(DocumentException.class, () -> liquid(keys), keys).getMessage();
        assertTrue(said.startsWith("bay.toml: " + refusal), said);
    }
}
