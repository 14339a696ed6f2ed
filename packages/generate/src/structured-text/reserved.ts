/**
 * Words that no name may be: keywords of IEC 61131-3 (edition 3, annex B; from memory), elementary types, and the names of
 * standard functions and function blocks, which compilers look up without a declaration. In lower case: case does not count.
 */
const keywords = `
  abstract action array at by case class configuration constant continue do else elsif end_action end_case end_class
  end_configuration end_for end_function end_function_block end_if end_interface end_method end_namespace end_program
  end_property end_repeat end_resource end_step end_struct end_transition end_type end_var end_while exit extends false final
  finally for from function function_block get goto if implements initial_step interface internal interval method
  namespace non_retain null of on overlap override persistent pointer priority private program property protected public read_only
  read_write ref ref_to reference repeat resource retain return set single step struct super task then this to transition
  true type union until using var var_access var_config var_external var_global var_in_out var_input var_output var_stat
  var_temp while with f_edge r_edge en eno
  and or xor not mod`;

const types = `
  bool sint int dint lint usint uint udint ulint real lreal time ltime date ldate date_and_time dt ldate_and_time ldt
  time_of_day tod ltime_of_day ltod string wstring char wchar byte word dword lword any any_derived any_elementary
  any_magnitude any_num any_real any_int any_unsigned any_signed any_duration any_bit any_chars any_string any_char any_date bit void`;

const functions = `
  abs sqrt ln log exp sin cos tan asin acos atan atan2 add mul sub div expt move shl shr rol ror sel max min limit mux gt ge
  eq le lt ne len left right mid concat insert delete replace find trunc round ceil floor adr sizeof
  add_time sub_time mul_time div_time concat_date concat_tod concat_dt concat_date_tod split_date split_tod split_dt
  day_of_week to_big_endian to_little_endian is_valid is_valid_bcd assert
  sr rs sema r_trig f_trig ctu ctd ctud tp ton tof rtc pid integral derivative hysteresis`;

// Instruction list: an operator at the start of a line, so many compilers refuse it as a name everywhere.
const operators =
  "ld ldn st stn s r s1 r1 andn orn xorn cal calc calcn jmp jmpc jmpcn ret retc retcn cu cd pv in pt et q";

const convertible = `bool byte word dword lword sint int dint lint usint uint udint ulint real lreal time ltime date tod dt
  string wstring char wchar`;

/** Every reserved word, in lower case. */
export const reserved: ReadonlySet<string> = new Set([
  ...words(keywords),
  ...words(types),
  ...words(functions),
  ...words(operators),
  ...conversions(),
]);

function words(list: string): string[] {
  return list.trim().split(/\s+/);
}

function conversions(): string[] {
  const all = words(convertible);
  return all.flatMap((from) => [
    `to_${from}`,
    `trunc_${from}`,
    `${from}_to`,
    ...["trunc", "bcd_to"].flatMap((way) => all.map((to) => `${from}_${way}_${to}`)),
    ...all.flatMap((to) => [`${from}_to_${to}`, `${from}_to_bcd_${to}`]),
  ]);
}
