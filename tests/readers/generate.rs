//! Random files that follow the table, and small damages to them.

use panelwright::define::table::{Kind, Need, Record, Rule};
use panelwright::units::Sign;
use serde_json::{Map, Value, json};

/// A small generator of numbers (splitmix64, Steele, Lea and Flood 2014): the same everywhere.
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }

    pub fn chance(&mut self, percent: u64) -> bool {
        self.next() % 100 < percent
    }

    fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}

/// Makes files; ids are counted so that none stands twice.
pub struct Maker {
    pub dice: Dice,
    ids: usize,
}

impl Maker {
    pub fn new(seed: u64) -> Self {
        Maker { dice: Dice(seed), ids: 0 }
    }

    /// A whole file of a record: head, unit and sources always, the rest by chance.
    pub fn file(&mut self, record: &Record) -> Value {
        let mut file = self.object(record, 0);
        file["format"] = json!(1);
        file["unit"] = json!(["mm", "cm", "in"][self.dice.below(3)]);
        file["sources"] = json!({ "s": { "basis": "typical" }, "note": "two words" });
        file
    }

    fn object(&mut self, record: &Record, depth: usize) -> Value {
        let keys = self.keys(record, depth);
        let mut out = Map::new();
        for field in record.all().filter(|f| keys.contains(&f.key)) {
            let value = match field.key {
                "source" => json!("s"),
                _ => self.value(&field.kind, depth + 1),
            };
            out.insert(field.key.into(), value);
        }
        if self.dice.chance(10) {
            out.insert("note".into(), json!(""));
        }
        Value::Object(out)
    }

    /// A set of keys that obeys the record's rules: tried at random, mended rule by rule.
    fn keys(&mut self, record: &Record, depth: usize) -> Vec<&'static str> {
        let percent = if depth == 0 { 60 } else { 40 };
        let rules: Vec<Rule> = record.rules.iter().copied().flatten().copied().collect();
        for _ in 0..1000 {
            let mut keys: Vec<&'static str> = Vec::new();
            for field in record.all() {
                if field.need == Need::Must || self.dice.chance(percent) {
                    keys.push(field.key);
                }
            }
            for _ in 0..20 {
                for rule in &rules {
                    self.mend(rule, &mut keys);
                }
            }
            if rules.iter().all(|rule| obeys(rule, &keys)) {
                return keys;
            }
        }
        panic!("no set of keys obeys the rules of {}", record.name)
    }

    fn mend(&mut self, rule: &Rule, keys: &mut Vec<&'static str>) {
        if obeys(rule, keys) {
            return;
        }
        match rule {
            Rule::AtLeastOne(of) => {
                let key: &&str = self.dice.pick(of);
                keys.push(key);
            }
            Rule::One(of) | Rule::AtMostOne(of) => {
                keys.retain(|key| !of.contains(key));
                let key: &&str = self.dice.pick(of);
                keys.push(key);
            }
            Rule::Beside { beside, .. } if self.dice.chance(50) => {
                let other: &&str = self.dice.pick(beside);
                keys.push(other);
            }
            Rule::Beside { key, .. } => keys.retain(|k| k != key),
        }
    }

    fn value(&mut self, kind: &Kind, depth: usize) -> Value {
        match kind {
            Kind::Length(sign) => self.length(*sign),
            Kind::Size(sign) if self.dice.chance(25) => {
                let of = self.length(*sign);
                json!({ "of": of, "plus": self.length(Sign::NotNegative), "source": "s", "note": "n" })
            }
            Kind::Size(sign) => self.length(*sign),
            Kind::Angle => {
                [json!(45), json!("-7.5 deg"), json!("90°"), json!(-360)][self.dice.below(4)].clone()
            }
            Kind::Mass => json!(["0.5 kg", "1 1/2 lb", "12oz", "350 g"][self.dice.below(4)]),
            Kind::Weight if self.dice.chance(30) => json!({ "of": "1 kg", "source": "s" }),
            Kind::Weight => self.value(&Kind::Mass, depth),
            Kind::Current => [json!(1.5), json!("250 mA"), json!("2 A")][self.dice.below(3)].clone(),
            Kind::Amount => [json!(2), json!("6 mm"), json!("2.5 D"), json!("-3 deg"), json!("1/4 in")]
                [self.dice.below(5)]
            .clone(),
            Kind::Number { least, most } => json!(least + (most - least) / 2.0),
            Kind::Whole { least, most } => json!(least + self.dice.below((most - least + 1) as usize) as u32),
            Kind::Text => json!(["some words", "é µ \" \\ /", "x"][self.dice.below(3)]),
            Kind::Signed => json!(["A. Builder, 2 April", "é 3, the owners' group"][self.dice.below(2)]),
            Kind::Words => json!(["", "words"][self.dice.below(2)]),
            Kind::Path => json!("M 0 0 H 10 V 10 Z"),
            Kind::Id => {
                self.ids += 1;
                json!(format!("{}-{}", ["a", "B2", "9_x"][self.dice.below(3)], self.ids))
            }
            Kind::Flag => json!(self.dice.chance(50)),
            Kind::Choice(words) => json!(self.dice.pick(words).0),
            Kind::Point => json!([self.length(Sign::Any), self.length(Sign::Any)]),
            Kind::Point3 => json!([self.length(Sign::Any), 0, self.length(Sign::Any)]),
            Kind::List { of, least, most } => {
                let room = if depth > 4 { 1 } else { 3 };
                let n = (least + self.dice.below(room)).min(*most);
                Value::Array((0..n).map(|_| self.value(of, depth + 1)).collect())
            }
            Kind::Map(of) => {
                let n = self.dice.below(3);
                json!((0..n).map(|i| (format!("key-{i}"), self.value(of, depth + 1))).collect::<Map<_, _>>())
            }
            Kind::Numbers => {
                let of = [
                    ("mass", json!("1 lb")),
                    ("centre", json!([0, "-2 mm", "1/4 in"])),
                    ("bodies.can.to", self.length(Sign::Any)),
                    ("openings.main.shape.circle", self.length(Sign::Positive)),
                ];
                let n = self.dice.below(of.len() + 1);
                let one = |(path, of)| (String::from(path), json!({ "of": of, "source": "s" }));
                json!(of.into_iter().take(n).map(one).collect::<Map<_, _>>())
            }
            Kind::Object(record) => self.object(record, depth),
            Kind::Either(kinds) => {
                let kind = self.dice.pick(kinds);
                self.value(kind, depth)
            }
        }
    }

    fn length(&mut self, sign: Sign) -> Value {
        let positive = [
            json!(12.5),
            json!(3),
            json!("3 1/8 in"),
            json!("3-1/8\""),
            json!("3.125in"),
            json!(".5 in"),
            json!("1' 2 1/2\""),
            json!("62 mil"),
            json!("79.4 mm"),
            json!("1/16 in"),
            json!("8 cm"),
            json!(" 7 "),
            json!("1e1 mm"),
            json!("5 ft 2 in."),
        ];
        match sign {
            Sign::Any if self.dice.chance(20) => json!("-1 1/2 in"),
            Sign::Any if self.dice.chance(20) => json!(-7.25),
            Sign::NotNegative if self.dice.chance(20) => json!(0),
            _ => self.dice.pick(&positive).clone(),
        }
    }
}

fn obeys(rule: &Rule, keys: &[&str]) -> bool {
    let count = |of: &[&str]| of.iter().filter(|key| keys.contains(key)).count();
    match rule {
        Rule::One(of) => count(of) == 1,
        Rule::AtLeastOne(of) => count(of) >= 1,
        Rule::AtMostOne(of) => count(of) <= 1,
        Rule::Beside { key, beside } => !keys.contains(key) || count(beside) > 0,
    }
}

/// Damages one random value, key or list of a file.
pub fn damage(file: &mut Value, dice: &mut Dice) {
    let n = size(file);
    let target = dice.below(n);
    walk(file, &mut target.clone(), dice);
}

fn size(value: &Value) -> usize {
    1 + match value {
        Value::Array(items) => items.iter().map(size).sum(),
        Value::Object(map) => map.values().map(size).sum(),
        _ => 0,
    }
}

fn walk(value: &mut Value, left: &mut usize, dice: &mut Dice) -> bool {
    if *left == 0 {
        hurt(value, dice);
        return true;
    }
    *left -= 1;
    match value {
        Value::Array(items) => items.iter_mut().any(|item| walk(item, left, dice)),
        Value::Object(map) => map.values_mut().any(|item| walk(item, left, dice)),
        _ => false,
    }
}

fn hurt(value: &mut Value, dice: &mut Dice) {
    match value {
        Value::Object(map) if !map.is_empty() && dice.chance(70) => {
            let key = map.keys().nth(dice.below(map.len())).cloned().unwrap_or_default();
            let old = map.shift_remove(&key).unwrap_or_default();
            match dice.below(3) {
                0 => {}
                1 => {
                    map.insert(format!("{key}x"), old);
                }
                _ => {
                    map.insert(key, odd(dice));
                }
            }
        }
        Value::Array(items) if dice.chance(70) => match dice.below(2) {
            0 => {
                items.pop();
            }
            _ => items.push(odd(dice)),
        },
        _ => *value = odd(dice),
    }
}

/// Values that fit few places.
fn odd(dice: &mut Dice) -> Value {
    let odd = [
        json!(null),
        json!(true),
        json!(-1),
        json!(0),
        json!(2.5),
        json!(1000),
        json!(""),
        json!("  "),
        json!("79,4"),
        json!("3 1/8 inn"),
        json!("-3 mm"),
        json!("nan"),
        json!("up"),
        json!("a b"),
        json!("ok"),
        json!([]),
        json!([1, 2]),
        json!({}),
        json!({ "of": "1 mm" }),
        json!({ "circle": 3 }),
        json!({ "circle": 3, "path": "M 0 0" }),
    ];
    odd[dice.below(odd.len())].clone()
}
