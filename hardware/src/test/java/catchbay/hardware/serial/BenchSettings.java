package catchbay.hardware.serial;

import catchbay.port.PortSettings;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A settings section made in a test; refuses as the settings file does, without file and line. */
public record BenchSettings(Map<String, Object> values) implements PortSettings {

    /** The same section with one more value. */
    public BenchSettings with(String key, Object value) {
        Map<String, Object> more = new HashMap<>(values);
        more.put(key, value);
        return new BenchSettings(more);
    }

    @Override
    public String text(String key) {
        return optionalText(key).orElseThrow(() -> refused(key, "is missing"));
    }

    @Override
    public Optional<String> optionalText(String key) {
        return Optional.ofNullable((String) values.get(key));
    }

    @Override
    public double number(String key, double least, double most, double otherwise) {
        if (!values.containsKey(key)) {
            return otherwise;
        }
        double number = ((Number) values.get(key)).doubleValue();
        if (!(number >= least && number <= most)) {
            throw refused(key, "must be from " + least + " to " + most + ", was " + number);
        }
        return number;
    }

    @Override
    public long whole(String key, long least, long most, long otherwise) {
        return (long) number(key, least, most, otherwise);
    }

    @Override
    public boolean flag(String key, boolean otherwise) {
        return (boolean) values.getOrDefault(key, otherwise);
    }

    @Override
    public List<String> texts(String key) {
        throw refused(key, "a serial line has no list");
    }

    @Override
    public RuntimeException refused(String key, String sentence) {
        return new IllegalArgumentException(key + ": " + sentence);
    }
}
