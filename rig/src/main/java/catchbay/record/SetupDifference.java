package catchbay.record;

import catchbay.quantity.VolumeUnit;
import catchbay.run.RunSetup;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * What two setups say differently of what a truck was asked, of what it was measured with and of
 * what it is judged by. Catches of two such setups are not repeats of one point. What a bay may
 * learn of itself meanwhile (a density, a test of the scale, a timing error) is no difference: each
 * catch is measured by what was known then.
 *
 * @param key the settings' section and key, in the units of the trade
 * @param before its value in the one; {@code nothing} where it has none
 * @param now its value in the other
 */
public record SetupDifference(String key, String before, String now) {

    private static final String NOTHING = "nothing";

    /** Numbers are equal that differ by no more than their arithmetic. */
    private static final MathContext DIGITS = new MathContext(9);

    private static final BigDecimal GALLON = BigDecimal.valueOf(VolumeUnit.US_GALLON.litres());
    private static final Pattern PERCENT = Pattern.compile(".*(tolerance|uncertainty)_ratio");

    /** What a scale is; beside it stands what was tried of it, and when. */
    private static final List<String> OF_SCALE =
            List.of("serial", "date", "uncertainty_ratio", "unit", "resolution_kg", "capacity_kg");

    /** The first difference, in the order of the settings' sections. */
    public static Optional<SetupDifference> of(RunSetup before, RunSetup now) {
        Map<String, String> one = said(before);
        Map<String, String> other = said(now);
        for (String key : union(one, other)) {
            String first = one.getOrDefault(key, NOTHING);
            String second = other.getOrDefault(key, NOTHING);
            if (!first.equals(second)) {
                return Optional.of(new SetupDifference(key, first, second));
            }
        }
        return Optional.empty();
    }

    private static Iterable<String> union(Map<String, String> one, Map<String, String> other) {
        Map<String, String> both = new LinkedHashMap<>(one);
        both.putAll(other);
        return both.keySet();
    }

    private static Map<String, String> said(RunSetup setup) {
        ObjectNode written = SetupWriter.write(setup);
        ((ObjectNode) written.get("bay")).retain("name");
        ObjectNode liquid = (ObjectNode) written.get("liquid");
        liquid.retain("name");
        setup.liquid().basis().ifPresent(basis -> liquid.put("kind", basis.liquid()));
        if (written.get("scale") instanceof ObjectNode scale) {
            scale.retain(OF_SCALE);
        }
        inTradeUnits((ObjectNode) written.get("asked"), setup.asked());
        Map<String, String> said = new LinkedHashMap<>();
        for (String section :
                List.of(
                        "bay",
                        "reference",
                        "scale",
                        "liquid",
                        "truck",
                        "asked",
                        "reported",
                        "verdict")) {
            flatten(section, written.path(section), said);
        }
        return said;
    }

    private static void inTradeUnits(ObjectNode to, RunSetup.Asked asked) {
        switch (asked.application()) {
            case RunSetup.Application.Direct direct -> {
                to.remove("rate_litres_per_lane_km");
                to.put("rate_us_gal_per_lane_mile", direct.rate().usGallonsPerLaneMile());
            }
            case RunSetup.Application.PreWet preWet -> {
                to.remove(List.of("rate_litres_per_tonne", "salt_kg_per_km"));
                to.put("rate_us_gal_per_ton", preWet.rate().usGallonsPerTon())
                        .put("salt_lb_per_mile", preWet.salt().poundsPerMile());
            }
        }
        to.remove("speed_metres_per_second");
        to.put("speed_mph", asked.speed().milesPerHour());
    }

    private static void flatten(String key, JsonNode value, Map<String, String> to) {
        if (value.isObject()) {
            value.properties().forEach(e -> flatten(key + "." + e.getKey(), e.getValue(), to));
        } else if (value.isArray()) {
            for (int i = 0; i < value.size(); i++) {
                flatten(key + "[" + i + "]", value.get(i), to);
            }
        } else if (value.isNumber()) {
            spelt(key, value.decimalValue(), to);
        } else if (!value.isMissingNode()) {
            to.put(key, value.asText());
        }
    }

    /** In the units of the trade. */
    private static void spelt(String key, BigDecimal number, Map<String, String> to) {
        if (PERCENT.matcher(key).matches()) {
            to.put(stem(key, "ratio") + "percent", number(number.movePointRight(2)));
        } else if (key.endsWith("pulses_per_litre")) {
            to.put(stem(key, "litre") + "us_gal", number(number.multiply(GALLON)));
        } else if (key.endsWith("flow_litres_per_second")) {
            BigDecimal perMinute = number.multiply(BigDecimal.valueOf(60));
            to.put(
                    stem(key, "litres_per_second") + "us_gal_per_min",
                    number(perMinute.divide(GALLON, MathContext.DECIMAL64)));
        } else {
            to.put(key, number(number));
        }
    }

    private static String stem(String key, String ending) {
        return key.substring(0, key.length() - ending.length());
    }

    private static String number(BigDecimal exact) {
        BigDecimal number = exact.round(DIGITS);
        return number.signum() == 0 ? "0" : number.stripTrailingZeros().toPlainString();
    }
}
