package catchbay.sim;

import catchbay.port.PortSettings;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;

/** A settings section from a map, that remembers which keys were asked for. */
record SettingsOf(Map<String, Object> values, TreeSet<String> asked) implements PortSettings {

    SettingsOf(Map<String, Object> values) {
        this(values, new TreeSet<>());
    }

    @Override
    public String text(String key) {
        return optionalText(key).orElseThrow(() -> refused(key, "missing"));
    }

    @Override
    public Optional<String> optionalText(String key) {
        asked.add(key);
        return Optional.ofNullable((String) values.get(key));
    }

    @Override
    public double number(String key, double least, double most, double otherwise) {
        asked.add(key);
        double value = values.get(key) instanceof Number given ? given.doubleValue() : otherwise;
        if (value < least || value > most) {
            throw refused(key, value + " is not from " + least + " to " + most);
        }
        return value;
    }

    @Override
    public long whole(String key, long least, long most, long otherwise) {
        return (long) number(key, least, most, otherwise);
    }

    @Override
    public boolean flag(String key, boolean otherwise) {
        asked.add(key);
        return values.get(key) instanceof Boolean given ? given : otherwise;
    }

    @Override
    @SuppressWarnings("unchecked")
    public List<String> texts(String key) {
        asked.add(key);
        return (List<String>) values.getOrDefault(key, List.of());
    }

    @Override
    public RuntimeException refused(String key, String sentence) {
        return new IllegalArgumentException(key + ": " + sentence);
    }
}
