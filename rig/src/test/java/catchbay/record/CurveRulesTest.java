package catchbay.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.FlowMix;
import catchbay.metrology.FlowMix.Duty;
import catchbay.quantity.VolumeUnit;

import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The section of the settings by which a truck's curve is judged. */
final class CurveRulesTest {

    private static CurveRules read(String json) throws IOException {
        Fields fields =
                Fields.of(new ObjectMapper().readTree(json.replace('\'', '"')), path -> "bay.toml");
        CurveRules rules = CurveRules.read(fields);
        fields.finish();
        return rules;
    }

    private static double usGallonsPerMinute(Duty duty) {
        return duty.flow().perMinute(VolumeUnit.US_GALLON);
    }

    @Test
    void nothingSetIsTheUsual() throws IOException {
        assertEquals(CurveRules.USUAL, read("{}"));
    }

    /**
     * gal/min = gal/lane-mile x mph x lanes / 60: 30 x 30 x 1 / 60 = 15, 40 x 35 x 3 / 60 = 70. Of
     * pre-wet: 300 lb/lane-mile x 25 mph / 60 / 2000 x 10 gal/ton = 0.625 (identities).
     */
    @Test
    void ratesAndSpeedsAreFlows() throws IOException {
        FlowMix mix =
                read("{'fit':'minimax','mix':["
                                + "{'rate_us_gal_per_lane_mile':30,'lanes':1,'speed_mph':30,"
                                + "'weight':3},"
                                + "{'rate_us_gal_per_lane_mile':40,'lanes':3,'speed_mph':35},"
                                + "{'rate_us_gal_per_ton':10,'salt_lb_per_lane_mile':300,'lanes':1,"
                                + "'speed_mph':25,'name':'pre-wet in town'},"
                                + "{'flow_us_gal_per_min':22.5,'weight':0.5}]}")
                        .mix();
        assertEquals(FlowMix.Fit.MINIMAX, mix.fit());
        assertEquals(15, usGallonsPerMinute(mix.duties().get(0)), 1e-12);
        assertEquals(70, usGallonsPerMinute(mix.duties().get(1)), 1e-12);
        assertEquals(0.625, usGallonsPerMinute(mix.duties().get(2)), 1e-12);
        assertEquals(22.5, usGallonsPerMinute(mix.duties().get(3)), 1e-12);
        assertEquals(List.of(3.0, 1.0, 1.0, 0.5), mix.duties().stream().map(Duty::weight).toList());
        assertEquals(
                List.of(
                        "30 gal/lane-mile, 1 lane, 30 mph",
                        "40 gal/lane-mile, 3 lanes, 35 mph",
                        "pre-wet in town",
                        "flow as given"),
                mix.duties().stream().map(Duty::label).toList());
        assertEquals(
                "10 gal/ton, 600 lb/mile, 25 mph",
                read("{'mix':[{'rate_us_gal_per_ton':10,'salt_lb_per_lane_mile':300,'lanes':2,"
                                + "'speed_mph':25}]}")
                        .mix()
                        .duties()
                        .getFirst()
                        .label());
    }

    @Test
    void limits() throws IOException {
        CurveRules rules =
                read(
                        "{'linearity_max_percent':1,'control_error_max_ratio':0.03,"
                            + "'scatter_max_percent':0.5,'speed_error_max_percent':2,"
                            + "'shown_speed_step_km_per_h':1,'coupler_min_psi':2,'coupler_max_bar':1,"
                            + "'strainer_max_kpa':34}");
        assertEquals(0.01, rules.limits().linearity().value(), 0);
        assertEquals(0.03, rules.limits().follow().value(), 0);
        assertEquals(0.005, rules.limits().scatter().value(), 0);
        assertEquals(0.02, rules.limits().speed().value(), 0);
        assertEquals(1 / 3.6, rules.limits().speedStep().metresPerSecond(), 1e-15);
        assertEquals(2, rules.limits().couplerLeast().orElseThrow().psi(), 1e-12);
        assertEquals(100, rules.limits().couplerMost().orElseThrow().kilopascals(), 0);
        assertEquals(34, rules.limits().strainerMost().orElseThrow().kilopascals(), 0);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            textBlock =
                    """
                    {'fit':'best'} | fit = "best": unknown fit 'best'; use least-squares or minimax
                    {'mix':3} | mix = 3: it must be a list
                    {'mix':[{'flow_us_gal_per_min':0}]} | it must be above zero
                    {'mix':[{'flow_us_gal_per_min':5,'weight':0}]} | it must be above 0
                    {'mix':[{'flow_us_gal_per_min':5,'speed_mph':3}]} | unknown key
                    {'mix':[{'speed_mph':3}]} | rate: it is missing
                    {'mix':[{'rate_us_gal_per_lane_mile':0,'lanes':1,'speed_mph':30}]} | needs no flow
                    {'mix':[{'rate_us_gal_per_lane_mile':9,'lanes':1}]} | speed_mph is missing
                    {'linearity_max_percent':101} | it must be from 0 to 100 %
                    {'linearty_max_percent':1} | did you mean linearity_max_percent?
                    {'coupler_min_psi':9,'coupler_max_psi':8} | 9.0 psi is above coupler_max of 8.0 psi
                    {'shown_speed_step_mph':0} | it must be above zero
                    """)
    void badRulesAreRefused(String json, String says) {
        DocumentException refused = assertThrows(DocumentException.class, () -> read(json));
        assertTrue(refused.getMessage().contains(says), refused.getMessage());
        assertTrue(refused.getMessage().startsWith("bay.toml: "), refused.getMessage());
    }

    @Test
    void everyKeyIsDocumented() throws IOException {
        String manual = Files.readString(Path.of("../src/docs/settings.md"));
        for (String key :
                List.of(
                        "`fit`",
                        "`linearity_max_…`",
                        "`control_error_max_…`",
                        "`scatter_max_…`",
                        "`speed_error_max_…`",
                        "`shown_speed_step_…`",
                        "`coupler_min_…`",
                        "`coupler_max_…`",
                        "`strainer_max_…`",
                        "`mix`",
                        "`weight`",
                        "`name`",
                        "`psi`")) {
            assertTrue(manual.contains(key), key);
        }
    }
}
